import { drawCurve } from "../pictures/curve.ts";
import { drawStrip } from "../pictures/season-strip.ts";
import { showCount } from "../quantity/show-quantity.ts";
import { wrap } from "./cell-text.ts";
import { type Line, lineOf } from "./line.ts";
import { type SavedSeason, type SeasonSeen, seasonFates } from "./pane-data.ts";

/** The lateral under the cursor. */
export interface LateralHere {
  readonly id: string;
  readonly row: number;
}

/** Whether the lateral is in the season and why, the curve of the money, the weeks of the crews. */
export function seasonLines(season: SeasonSeen, here: LateralHere | null, width: number): readonly Line[] {
  const { saved, notShown, calendar, heldBack } = season;
  const say = (text: string, look: "plain" | "dim" | "bold" = "plain") =>
    wrap(text, width).map((line) => lineOf(line, look));
  return [
    ...heldBack.flatMap((text) => [...say(text, "bold"), lineOf("")]),
    ...(saved === null ? say(notShown) : savedLines(saved, here, width)),
    lineOf(""),
    ...(calendar === null
      ? say('program.json has no "season": { "calendar": … }, so there are no weeks to show.')
      : [
          ...say(`Weeks of the crews: ${calendar.of}`, "bold"),
          ...say(
            `${calendar.workingDays} working days; ${calendar.finish === null ? `not done when the season ends: ${showCount(calendar.crewDaysLeft)} crew-days are left` : `done on ${calendar.finish}`}, in the expected weather.`,
          ),
          ...drawStrip(calendar.strip)
            .split("\n")
            .flatMap((text) => cutLines(text, width)),
        ]),
  ];
}

/** The rows of the strip are not wrapped: a week would stand under another one. */
const cutLines = (text: string, width: number): readonly Line[] =>
  /^A letter/.test(text)
    ? wrap(text, width).map((line) => lineOf(line, "dim"))
    : [lineOf([...text].slice(0, width).join(""))];

const CURVE_HIGH = 7;

function savedLines(saved: SavedSeason, here: LateralHere | null, width: number): readonly Line[] {
  const say = (text: string, look: "plain" | "dim" | "bold" = "plain") =>
    wrap(text, width).map((line) => lineOf(line, look));
  const wide = Math.max(10, Math.min(60, width - 4));
  const curve = drawCurve(
    saved.curve.map(({ cost, worth }) => ({ x: cost, y: worth })),
    wide,
    CURVE_HIGH,
  );
  return [
    ...(here === null
      ? []
      : [...fateLines(saved, here).flatMap((text, i) => say(text, i === 0 ? "bold" : "plain")), lineOf("")]),
    ...say(`Season ${saved.name}, saved ${saved.when}`, "bold"),
    ...saved.head.flatMap((text) => say(text)),
    lineOf(""),
    ...say("Worth by money spent", "bold"),
    ...curve.map((text) => lineOf(`  │${text}`.slice(0, width))),
    lineOf(`  └${"─".repeat(wide)}`.slice(0, width)),
    ...say(
      "The laterals that are in, from the one with most worth for its cost to the one with least; to the right more money, upwards more worth.",
      "dim",
    ),
  ];
}

/** Why a lateral is in or out, as its season was solved. */
function knownReason({ reasons }: SavedSeason, row: number): string | null {
  const place = reasons?.of[row] ?? 0;
  return place === 0 ? null : (reasons?.sentences[place - 1] ?? null);
}

/** In or out, and what of. */
function fateLines(saved: SavedSeason, { id, row }: LateralHere): readonly string[] {
  const { chosen, fates, ratios } = saved;
  const known = knownReason(saved, row);
  const ratio = ratios[row] ?? Number.NaN;
  const times = `${ratio.toFixed(2)} times what the least of those that are in gains for its cost`;
  const fate = seasonFates[fates[row] ?? seasonFates.length];
  if (known !== null) {
    const head = fate === "in" ? `${id} is in: ${chosen.get(id) ?? "its treatment"}` : `${id} is out`;
    return [head, known, ...(Number.isNaN(ratio) ? [] : [`For its cost it gains ${times}.`])];
  }
  switch (fate) {
    case "in":
      return [
        `${id} is in: ${chosen.get(id) ?? "its treatment"}`,
        Number.isNaN(ratio)
          ? "Its offer of then is not among the offers that count now."
          : `For its cost it gains ${times}.`,
      ];
    case "no offer that counts":
      return [`${id} is out`, "It has no offer with a price, a known gain and a permission that holds."];
    case "held back":
      return [
        `${id} is out`,
        "A cross-bore was found in it and is not recorded as made safe: nobody is sent there, not with a camera either.",
      ];
    case "must not":
      return [`${id} is out`, "The season's rules say that it must not be done (season.must_not)."];
    case "fits no season":
      return [`${id} is out`, "Each of its offers alone takes more money or crew-days than the season has."];
    case "gains nothing":
      return [`${id} is out`, "None of its offers gains anything by what the season is selected for."];
    case "others gain more":
      return [
        `${id} is out`,
        `For its cost its best offer gains ${times}. The money, crew-days or opening of its district that it takes gain more elsewhere, or the rules leave no room. wyeplan season FOLDER --why ${id} works out the season with it in.`,
      ];
    case undefined:
      return [`${id} was not there when this season was looked at`];
    default:
      return fate satisfies never;
  }
}
