import { describe, expect, it } from "vitest";
import type { OwnersConditions } from "../../src/reference/bidding-rules.ts";
import { GrowingText } from "../../src/sheet/grow.ts";
import { withColumns } from "../../src/sheet/table.ts";
import { readBidView } from "../../src/workbook/bid-view.ts";
import type { BookContents } from "../../src/workbook/book-contents.ts";
import { conditionsSheet, notStated } from "../../src/workbook/conditions-sheet.ts";
import { smallContents } from "./small-program.ts";

const contents = smallContents("us");
const { basis } = contents.bid.program;
type Basis = typeof basis;

/** The small program with other settings, and with laterals whose visit is long. */
function viewOf(changes: Partial<Basis>, longOutages: readonly string[] | null = null) {
  const program = { ...contents.bid.program, basis: { ...basis, ...changes } };
  const season =
    longOutages === null ? null : ({ plan: { longOutages } } as unknown as BookContents["season"]);
  return readBidView({ ...contents, bid: { ...contents.bid, program }, season });
}
/** What applies, with its dates as day numbers and the owner's words, by what it is about. */
const saidOf = (view: ReturnType<typeof viewOf>, stated: OwnersConditions = {}) =>
  new Map(
    [...conditionsSheet(view, stated).rows].map(([what, from, through, ...said]) => [
      what,
      [from, through].every((date) => date === null)
        ? said
        : [...[from, through].map((date) => (date as { value: number }).value), ...said],
    ]),
  );

const calendar: NonNullable<Basis["calendar"]> = {
  starts: "2026-04-06",
  ends: "2026-10-30",
  workingWeek: ["monday", "tuesday", "thursday"],
  holidays: [
    { day: "2026-09-07", name: "Labor Day" },
    { day: "2026-12-25", name: "after the season" },
  ],
  blackouts: [
    { from: "2026-07-20", to: "2026-07-24", why: "fair", district: "North Basin" },
    { from: "2026-07-20", to: "2026-07-24", why: "elsewhere", district: "no such district" },
    { from: "2026-05-04", to: "2026-05-05", why: "election" },
  ],
  districtOrder: ["Mill Creek"],
  crews: { lining: { count: 7, changes: [] } },
  coordinateMetres: null,
};

describe("the working conditions of a bid book", () => {
  it("say of everything that the program does not know that the owner does not state it", () => {
    const view = viewOf({ calendar: null });
    const said = saidOf(view);
    const ask = ["Not stated by the owner. Ask before you bid.", ""];
    for (const what of [
      "Days of work, holidays, days without work",
      "Hours of work",
      "Notice to occupants, and the longest time without service",
      "Water for cleaning and curing",
    ])
      expect(said.get(what), what).toEqual(ask);
    expect(said.get("Bypass pumping and flow control: who pays")?.[0]).toBe(
      "Not stated by the owner. No item of this schedule pays for it by itself: ask before you bid.",
    );
    expect(said.get("Laterals out of service for long")?.[0]).toContain("Not known");
    expect(notStated(view)).toHaveLength(10);
  });

  it("give the season, and the days without work in it of the districts that are bid, in the order of the days", () => {
    const view = viewOf({ calendar });
    const said = saidOf(view);
    // 2026-01-01 is day 46023 of spreadsheets; 6 April is 95 days on, 30 October 302.
    expect(said.get("Days of work")).toEqual([
      46118,
      46325,
      "Monday, Tuesday, Thursday, but for the days below.",
      "",
    ]);
    expect([...said.keys()].filter((what) => String(what).startsWith("No work"))).toEqual([
      "No work: election",
      "No work: fair",
      "No work: Labor Day",
    ]);
    // 20 July is 200 days on.
    expect(said.get("No work: fair")).toEqual([46223, 46227, "District North Basin only.", ""]);
    // The contractor's own business.
    expect(JSON.stringify(view.conditions)).not.toMatch(/Mill Creek|"count"/);
  });

  it("say from which day work may follow mains that are lined first, and where that is not stated", () => {
    const { laterals } = contents.bid.program;
    const lining = new GrowingText();
    for (let row = 0; row < laterals.rows; row++) lining.push("to be lined");
    const mainsLined = { laterals: {}, districts: { "Mill Creek": "2026-06-22", "North Basin": null } };
    const program = {
      ...contents.bid.program,
      laterals: withColumns(laterals, [["main_lining", lining.finish()]]),
      basis: { ...basis, calendar, mainsLined },
    };
    const view = readBidView({ ...contents, bid: { ...contents.bid, program } });
    // 22 June is 172 days after 2026-01-01, day 46023.
    const [row] = [...conditionsSheet(view).rows].filter(([what]) => what === "Main lined first: Mill Creek");
    expect(row?.slice(1, 3)).toEqual([{ kind: "number", value: 46195, format: "yyyy-mm-dd" }, null]);
    expect(row?.[3]).toMatch(
      /^\d+ lateral\(s\) whose main is to be lined before them: no work on them before/,
    );
    const [other] = [...conditionsSheet(view).rows].filter(
      ([what]) => what === "Main lined first: North Basin",
    );
    expect(other?.slice(1, 3)).toEqual([null, null]);
    expect(other?.[3]).toContain("the day is not stated. Ask before you bid.");
  });

  it("give hours, notice and the longest outage where program.json states them, and not those of our tables", () => {
    const ours = { document: "program.json" };
    const steps = {
      ...basis.steps,
      workHours: { from: 7.5, to: 18 },
      workHoursSource: ours,
      noticeDays: 2,
      noticeSource: ours,
      longestOutageMinutes: 450,
      outageSource: ours,
    };
    const said = saidOf(viewOf({ steps }));
    expect(said.get("Hours of work")?.[0]).toBe("7:30 to 18:00, by the 24-hour clock.");
    expect(said.get("Notice to occupants, and the longest time without service")?.[0]).toBe(
      "2 calendar days before the work, to every occupant. No building without service for more than 7.5 h.",
    );
  });

  it("name the laterals that are long out of service, of those that are bid", () => {
    const [first, second] = [...viewOf({}).laterals];
    const said = saidOf(viewOf({ calendar }, [second!.id, first!.id, "99999"]));
    expect(said.get("Laterals out of service for long")?.[0]).toBe(
      `2 for more than 8 h at a visit, as the owner plans the work, and to be kept flowing meanwhile: ${second!.id}, ${first!.id}.`,
    );
  });

  it("say who pays for flow control, with the owner's clause, and that an allowance is missing", () => {
    const paid = (paid_by: "unit prices" | "owner" | "allowance") =>
      saidOf(viewOf({}), { flow_control: { paid_by, clause: "Section 7." } }).get(
        "Bypass pumping and flow control: who pays",
      );
    expect(paid("unit prices")).toEqual([
      "Included in the unit prices of the work that needs it: no item pays for it by itself.",
      "Section 7.",
    ]);
    expect(paid("owner")).toEqual(["Provided and paid by the owner.", "Section 7."]);
    expect(paid("allowance")?.[0]).toContain("this book carries no allowance");
  });

  it("count the connections that are lined at the main by their items", () => {
    const view = viewOf({});
    const lines = view.lines.filter(({ item }) => item.key === "connection liner");
    const count = lines.reduce((sum, { hundredths }) => sum + hundredths, 0) / 100;
    expect(count).toBeGreaterThan(0);
    expect(saidOf(view).get("Work at or from the main")?.[0]).toContain(
      `${count} connection(s), item(s) ${lines.map(({ number }) => number.toFixed(2)).join(", ")}`,
    );
  });
});
