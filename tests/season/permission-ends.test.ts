import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { dayFromIso, isoDate } from "../../src/quantity/calendar.ts";
import { type Day, day } from "../../src/quantity/si.ts";
import type { PackedDay } from "../../src/season/day-packing.ts";
import { permissionEndAt, soonestFirst } from "../../src/season/permission-ends.ts";
import { planSeason } from "../../src/season/season-calendar.ts";
import { fitSeason } from "../../src/season/season-fit.ts";
import { datedVisits } from "../../src/season/visit-dates.ts";
import { textAt, withColumns } from "../../src/sheet/table.ts";
import { unpermittedSaid } from "../../src/workbook/notices-sheet.ts";
import { smallProgram } from "../workbook/small-program.ts";
import { seasonCalendar } from "./season-examples.ts";

const calendar = seasonCalendar();
const crews = { ...calendar.crews, preparation: { count: 2, changes: [] } };
const program = smallProgram("us", [], 40);
const FIRST = dayFromIso(calendar.starts)!;

/** The small program's season when its laterals' permissions end so many days after the season's first; of some they have no end. */
function plannedWith(ends: readonly (number | null)[]) {
  const values = Float64Array.from({ length: program.laterals.rows }, (_, row) => {
    const after = ends[row] ?? null;
    return after === null ? Number.NaN : FIRST + after;
  });
  const whole = {
    ...program,
    basis: { ...program.basis, calendar: { ...calendar, crews } },
    laterals: withColumns(program.laterals, [["permission_expires", { kind: "number", values }]]),
  };
  const plan = planSeason(whole)!;
  return { plan, values, ...datedVisits(whole, plan) };
}
const someEnds = fc.array(fc.option(fc.nat(40)), { minLength: 40, maxLength: 40 });

describe("days before a permission ends", () => {
  it("come first in a way that meets every end if any order of the days does", () => {
    fc.assert(
      fc.property(fc.array(fc.array(fc.nat(7), { minLength: 1, maxLength: 2 }), { maxLength: 5 }), (ends) => {
        // Row 10·d + i is the i-th of packed day d; its permission ends with the day of this number.
        const days = ends.map((own, d) => ({ rows: own.map((_, i) => 10 * d + i), days: 1 }));
        const endOf = (row: number) => day(ends[Math.floor(row / 10)]![row % 10]!);
        const meets = (order: readonly PackedDay[]) =>
          order.every(({ rows }, at) => rows.every((row) => at <= endOf(row)));
        const anyMeets = orders(days).some(meets);
        expect(meets(soonestFirst(days, endOf))).toBe(anyMeets);
      }),
    );
  });

  it("are as many and end as soon as without ends, so that no selection of a season is touched by them", () => {
    const free = fitSeason(plannedWith([]).plan);
    fc.assert(
      fc.property(someEnds, (ends) => {
        expect(fitSeason(plannedWith(ends).plan)).toEqual(free);
      }),
      { numRuns: 20 },
    );
  });
});

describe("a crew's dated days", () => {
  it("follow the ends of their permissions in each district, long visits first", () => {
    let inTurn = 0;
    fc.assert(
      fc.property(someEnds, (ends) => {
        const { plan, values } = plannedWith(ends);
        const soonestOf = (rows: readonly number[]) =>
          Math.min(
            ...rows.map((row) => {
              const none = textAt(program.laterals, "treatment", row) === "inspect first";
              return none || Number.isNaN(values[row]!) ? Number.POSITIVE_INFINITY : values[row]!;
            }),
          );
        for (const { district, crews } of plan.calendars.expected.districts)
          for (const { crew: kind, dated } of crews) {
            const work = plan.work.find((each) => each.district === district)!.crews;
            const long = new Set(work.find((each) => each.crew === kind)!.longVisits);
            const oneShift = dated
              .filter(({ rows }) => !long.has(rows[0]!))
              .map(({ rows }) => soonestOf(rows));
            expect(oneShift).toEqual([...oneShift].sort((a, b) => (a < b ? -1 : a > b ? 1 : 0)));
            if (new Set(oneShift).size > 1) inTurn++;
          }
      }),
      { numRuns: 20 },
    );
    // Days whose order says something, in most of the twenty seasons.
    expect(inTurn).toBeGreaterThan(10);
  });
});

describe("laterals of which a permission ends too soon", () => {
  it("are those of which a crew is at work after it, each with its last visit", () => {
    fc.assert(
      fc.property(someEnds, (ends) => {
        const { visits, unpermitted, values } = plannedWith(ends);
        const late = Array.from(values, (end, row) => {
          const lateral = textAt(program.laterals, "lateral", row);
          // A look from the main enters no property, so it needs none.
          if (textAt(program.laterals, "treatment", row) === "inspect first") return null;
          const own = visits.filter((visit) => visit.lateral === lateral);
          return own.some(({ until }) => until === null || until > end) ? lateral : null;
        }).filter((lateral) => lateral !== null);
        expect(unpermitted.map(({ lateral }) => lateral)).toEqual(late.sort());
        for (const { lateral, until } of unpermitted)
          expect(until).toBe(
            Math.max(...visits.filter((visit) => visit.lateral === lateral).map((visit) => visit.until!)),
          );
      }),
      { numRuns: 20 },
    );
  });

  it("are said with both days, and what mends it", () => {
    const [first] = plannedWith(new Array(40).fill(0)).unpermitted;
    expect(unpermittedSaid([first!])).toEqual([
      `The owner's permission ends before the work at 1 lateral(s) is done: ${first!.lateral} (ends 2026-07-06; ${first!.crew} on ${isoDate(first!.until!)}). Have it renewed before a crew comes, or work their districts earlier (season.calendar.district_order).`,
    ]);
    expect(unpermittedSaid([])).toEqual([]);
  });

  it("are none where no permission is needed: on the city's own parts, or for an inspection", () => {
    const row = { lower_owner: "city", upper_owner: "city" };
    const { laterals } = program;
    const words = (value: string) =>
      ({ kind: "code", words: ["", value], codes: codes(laterals.rows) }) as const;
    const owned = withColumns(laterals, [
      ["permission_expires", { kind: "number", values: new Float64Array(laterals.rows).fill(FIRST) }],
      ["lower_owner", words(row.lower_owner)],
      ["upper_owner", words(row.upper_owner)],
    ]);
    const shared = withColumns(owned, [["upper_owner", words("private")]]);
    const endOf = (table: typeof owned, treatment: string): Day | null =>
      permissionEndAt(table, 0, treatment);
    expect(endOf(owned, "full-length liner")).toBeNull();
    expect(endOf(shared, "full-length liner")).toBe(FIRST);
    expect(endOf(shared, "connection liner")).toBeNull();
    expect(endOf(shared, "inspect first")).toBeNull();
  });
});

const codes = (rows: number) => new Uint32Array(rows).fill(1);

function orders<T>(of: readonly T[]): readonly (readonly T[])[] {
  if (of.length <= 1) return [of];
  return of.flatMap((one, i) =>
    orders([...of.slice(0, i), ...of.slice(i + 1)]).map((rest) => [one, ...rest]),
  );
}
