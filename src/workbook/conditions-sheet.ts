import { firstOf } from "../quantity/first-of.ts";
import { showCount } from "../quantity/show-quantity.ts";
import type { OwnersConditions } from "../reference/bidding-rules.ts";
import { itemNumber } from "./bid-schedule.ts";
import type { BidView } from "./bid-view.ts";
import { capital } from "./book-contents.ts";
import { textOrDate } from "./number-format.ts";
import type { Cell, Row, SheetModel } from "./sheet-model.ts";

const NOT_STATED = "Not stated by the owner.";
const BESIDE = "As stated beside this.";
const ASK = `${NOT_STATED} Ask before you bid.`;

/** What the owner says in words of the bid documents, and how each is asked for: the order is that of the sheet. */
const asked = {
  bids_due: "Bids are due",
  questions: "Questions and site visits",
  contract_time: "Contract time, weather, and what a late finish costs",
  working_hours: "Hours of work",
  notice: "Notice to occupants, and the longest time without service",
  water: "Water for cleaning and curing",
  disposal: "What is taken out of the pipes",
  access: "Entry to private ground and buildings",
} as const satisfies Record<Exclude<keyof OwnersConditions, "flow_control">, string>;

const pays = {
  "unit prices": "Included in the unit prices of the work that needs it: no item pays for it by itself.",
  owner: "Provided and paid by the owner.",
  allowance: "Paid under the owner's allowance for it in the bid schedule.",
} as const satisfies Record<NonNullable<OwnersConditions["flow_control"]>["paid_by"], string>;

/** Laterals that a row names: what one cell shows. */
const MOST_NAMED = 60;

/** When and how the work is done, as far as the owner says so, and what is not said: a bidder prices both. */
export function conditionsSheet(view: BidView, stated: OwnersConditions = {}): SheetModel {
  return {
    name: "Working conditions",
    title: "Working conditions",
    notes: [
      `When and how the work is done, as the owner's program has it. "${NOT_STATED}" is what it does not say, and no promise either way. The contract documents govern.`,
    ],
    columns: [
      { heading: "What", width: 38, wrap: true },
      { heading: "From", width: 13 },
      { heading: "Through", width: 13 },
      { heading: "What applies", width: 54, wrap: true },
      { heading: "As the owner states it", width: 40, wrap: true },
    ],
    rows: [
      ...section("Bidding", [clauseRow("bids_due", stated), clauseRow("questions", stated)]),
      ...section("Days and hours", [
        ...dayRows(view),
        ...mainRows(view),
        hoursRow(view, stated),
        clauseRow("contract_time", stated),
      ]),
      ...section("Flow, and people who live there", flowRows(view, stated)),
      ...section("Site", [
        clauseRow("water", stated),
        clauseRow("disposal", stated),
        clauseRow("access", stated),
        words("Traffic", trafficSaid(view)),
      ]),
      ...section("Where this work can hurt someone", [words("Read the sheet Cautions", dangers(view))]),
    ],
    frozenColumns: 0,
    pagesWide: 1,
    locked: true,
  };
}

const section = (text: string, rows: readonly Row[]): readonly Row[] => [
  [{ kind: "section", text }, ...Array.from({ length: 4 }, (): Cell => ({ kind: "section", text: "" }))],
  ...rows,
];
const words = (what: string, applies: string, clause = ""): Row => [what, null, null, applies, clause];

const clauseRow = (key: keyof typeof asked, stated: OwnersConditions): Row =>
  words(asked[key], stated[key] === undefined ? ASK : BESIDE, stated[key] ?? "");

function dayRows(view: BidView): readonly Row[] {
  const { season } = view.conditions;
  const on = (iso: string): Cell => textOrDate(iso, view.head.print.dates);
  if (season === null) return [words("Days of work, holidays, days without work", ASK)];
  const idle = [
    ...season.holidays.map(({ day, name }) => ({
      from: day,
      to: day,
      why: name,
      where: "Holiday, all districts.",
    })),
    ...season.blackouts.map(({ from, to, why, district }) => ({
      from,
      to,
      why,
      where: district === undefined ? "All districts." : `District ${district} only.`,
    })),
  ].sort((a, b) => (a.from < b.from ? -1 : a.from > b.from ? 1 : 0));
  return [
    [
      "Days of work",
      on(season.starts),
      on(season.ends),
      `${weekSaid(season.workingWeek)}, but for the days below.`,
      "",
    ],
    ...idle.map(({ from, to, why, where }): Row => [`No work: ${why}`, on(from), on(to), where, ""]),
    ...(idle.length === 0 ? [words("Days without work", "None stated by the owner.")] : []),
  ];
}

const mainRows = ({ conditions: { mains }, head }: BidView): readonly Row[] =>
  mains.map(({ district, from, laterals }) => [
    `Main lined first: ${district}`,
    from === null ? null : textOrDate(from, head.print.dates),
    null,
    `${showCount(laterals)} lateral(s) whose main is to be lined before them: ` +
      (from === null ? "the day is not stated. Ask before you bid." : "no work on them before that day."),
    "",
  ]);

/** `Monday to Friday`, or the days one by one. */
function weekSaid(days: readonly string[]): string {
  const week = ["monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"];
  const own = week.filter((day) => days.includes(day)).map(capital);
  const first = week.indexOf(own[0]?.toLowerCase() ?? "");
  const isRun = own.length > 2 && own.every((day, i) => week[first + i] === day.toLowerCase());
  return isRun ? `${own[0]} to ${own.at(-1)}` : own.join(", ");
}

/** 7.5 hours of the day as 7:30. */
const clock = (hours: number): string => {
  const minutes = Math.round(hours * 60);
  return `${Math.floor(minutes / 60)}:${String(minutes % 60).padStart(2, "0")}`;
};

function hoursRow({ conditions: { hours } }: BidView, { working_hours: clause }: OwnersConditions): Row {
  const said = hours === null ? null : `${clock(hours.from)} to ${clock(hours.to)}, by the 24-hour clock.`;
  return words(asked.working_hours, said ?? (clause === undefined ? ASK : BESIDE), clause ?? "");
}

/** Items placed from the main or at it. */
const IN_THE_MAIN: ReadonlySet<string> = new Set(["connection liner", "one-piece liner"]);

function flowRows(view: BidView, stated: OwnersConditions): readonly Row[] {
  const { lines, allowances } = view;
  const { longOutages } = view.conditions;
  const flow = stated.flow_control;
  const missing =
    flow?.paid_by === "allowance" && allowances.length === 0
      ? " But this book carries no allowance: ask before you bid."
      : "";
  const inMain = lines.filter(({ item }) => IN_THE_MAIN.has(item.key));
  const items = [...new Set(inMain.map(({ number }) => itemNumber(number)))];
  const count = inMain.reduce((sum, { hundredths }) => sum + hundredths, 0) / 100;
  return [
    words(
      "Bypass pumping and flow control: who pays",
      flow === undefined
        ? `${NOT_STATED} No item of this schedule pays for it by itself: ask before you bid.`
        : `${pays[flow.paid_by]}${missing}`,
      flow?.clause ?? "",
    ),
    words(
      "Work at or from the main",
      count === 0
        ? "None in this schedule."
        : `${showCount(count)} connection(s), item(s) ${items.join(", ")}: the flow in the main has to be kept off each while its liner is placed and cured.`,
    ),
    words(
      "Laterals out of service for long",
      longOutages === null
        ? "Not known: the owner's program plans no visits."
        : longOutages.laterals.length === 0
          ? `None for more than ${hoursOf(longOutages.over)} at a visit, as the owner plans the work.`
          : `${showCount(longOutages.laterals.length)} for more than ${hoursOf(longOutages.over)} at a visit, as the owner plans the work, and to be kept flowing meanwhile: ${namedIn(longOutages.laterals)}.`,
    ),
    noticeRow(view, stated),
  ];
}

function noticeRow(
  { conditions: { notice, longestOutage } }: BidView,
  { notice: clause }: OwnersConditions,
): Row {
  const said = [
    ...(notice === null ? [] : [`${notice} before the work, to every occupant.`]),
    ...(longestOutage === null
      ? []
      : [`No building without service for more than ${hoursOf(longestOutage)}.`]),
  ];
  return words(
    asked.notice,
    said.length > 0 ? said.join(" ") : clause === undefined ? ASK : BESIDE,
    clause ?? "",
  );
}

const hoursOf = (minutes: number): string => `${Number((minutes / 60).toFixed(2))} h`;

const namedIn = (laterals: readonly string[]): string => firstOf(laterals, MOST_NAMED);

function trafficSaid({ lines }: BidView): string {
  const item = lines.find((line) => line.item.key === "traffic control");
  return item === undefined ? ASK : `Paid under item ${itemNumber(item.number)}, by the local manual.`;
}

/** What the cautions of this work are about, by their keys. */
const DANGERS = {
  "cross-bore found": "a line of a utility that was found bored through a lateral",
  "confined space": "confined spaces",
  "sewer gas": "sewer gas",
  "cross-bore": "gas lines bored through laterals",
  resin: "resin vapour and skin contact",
  "heat and pressure": "steam, hot water and pressure",
  grout: "chemical grout",
  excavation: "trenches and cut services",
  traffic: "traffic",
  asbestos: "asbestos-cement pipe",
} as const;

function dangers({ cautions }: BidView): string {
  const keys = new Set(cautions.map(({ key }) => key));
  const found = Object.entries(DANGERS).flatMap(([key, about]) => (keys.has(key) ? [about] : []));
  return `${capital(found.join("; "))}. Price what the law, the owner and your own safety program ask for against them.`;
}

/** What of the working conditions bidders are told that it is not stated. */
export const notStated = (view: BidView, stated: OwnersConditions = {}): readonly string[] =>
  [...conditionsSheet(view, stated).rows].flatMap(([what, , , applies]) =>
    typeof applies === "string" && applies.startsWith(NOT_STATED) ? [String(what)] : [],
  );
