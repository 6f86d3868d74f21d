import { rmSync } from "node:fs";
import { describe, expect, it } from "vitest";
import type { DecidedValue } from "../../src/columns/decided.ts";
import { decideValue } from "../../src/commands/decide.ts";
import { loadProgram } from "../../src/commands/load-program.ts";
import { bookContents } from "../../src/commands/write-workbook.ts";
import { cents } from "../../src/quantity/si.ts";
import { bidLinesToBid, worksOver, workToBid } from "../../src/season/bid-work.ts";
import { planProgram } from "../../src/season/planned-program.ts";
import { takeOffByDistrict } from "../../src/season/takeoff.ts";
import { readBidView } from "../../src/workbook/bid-view.ts";
import { estimateSheet } from "../../src/workbook/estimate.ts";
import { lateralScheduleSheets } from "../../src/workbook/lateral-schedule.ts";
import { recorded, sampleCopy, unread } from "../commands/sample-copy.ts";
import { usBasis } from "../plan/examples.ts";
import { lateralRow, programTables, surveyRow } from "./examples.ts";

const preparedFirst = ["clean and cut roots", "full-length liner"] as const;
const ROOTS = "root cutting | 4 in";

/** Roots cut and lined: two 4 in hosts of 40 ft; root cutting at 5.50 a foot is 220.00 of the cost of each. */
function planned(status: string | null) {
  const ids = ["A1", "A2"];
  const tables = programTables(
    ids.map((id) => lateralRow(id)),
    ids.map((id) => surveyRow(id, 4, 1, { structural_quick: "4332" })),
  );
  const value: DecidedValue = { value: status ?? "", reason: "site diary" };
  const decisions = new Map(status === null ? [] : [["A1", new Map([["status", value]])]]);
  const { works } = usBasis.treatments;
  const basis = {
    ...usBasis,
    treatments: {
      ...usBasis.treatments,
      works: { ...works, "full-length liner": [...preparedFirst] },
    },
    prices: { ...usBasis.prices, [ROOTS]: cents(550) },
  };
  return planProgram({ ...tables, decisions }, basis, { problems: [], tallies: [] });
}
const rootsIn = (lines: ReadonlyMap<string, number>) => (lines.get(ROOTS) ?? 0) / 100;

describe("work that is over at a lateral under way", () => {
  it("is asked for no more: root cutting of one that was cleaned or measured, the lining still", () => {
    expect(rootsIn(workToBid(planned(null)).totals.program.bidLines)).toBe(80);
    for (const status of ["cleaned", "measured"]) {
      const program = planned(status);
      const bid = workToBid(program);
      expect(rootsIn(bid.totals.program.bidLines), status).toBe(40);
      expect(rootsIn(bidLinesToBid(program))).toBe(40);
      expect(bid.totals.program.bidLines.get("full-length liner | 4 in")).toBe(200);
      expect(worksOver(program)).toEqual([{ lateral: "A1", status, cost: 22_000 }]);
    }
    expect(rootsIn(workToBid(planned("permitted")).totals.program.bidLines)).toBe(80);
    expect(worksOver(planned("accepted"))).toEqual([]);
  });

  it("has its root cutting bought no more", async () => {
    const folder = sampleCopy("quennock-falls");
    const rootCutting = async () => {
      const loaded = await loadProgram(folder);
      if (!loaded.ok) throw new Error("the sample does not load");
      const bid = workToBid(loaded.program);
      const { lines } = takeOffByDistrict(bid, bid.basis).program;
      return lines.find(({ item }) => item === "root cutting")?.use ?? 0;
    };
    const before = await rootCutting();
    const decided = { folder, lateral: "00217", column: "status", value: "cleaned", reason: "site diary" };
    expect(await decideValue(decided, recorded().io, unread)).toBe(0);
    // Its 74.2 ft of host × 304.8 mm, up to the next mm.
    expect(before - (await rootCutting())).toBe(22_617);
    rmSync(folder, { recursive: true, force: true });
  });

  it("is named to bidders and taken off the estimate, whose difference to the laterals' costs stays the lump sums", () => {
    const noteOf = (status: string | null) =>
      lateralScheduleSheets(readBidView(bookContents(planned(status))))[0]!.notes.join("\n");
    expect(noteOf("cleaned")).toContain("no root cutting is asked for or paid there: 1 lateral(s): A1.");
    expect(noteOf(null)).not.toContain("Cleaned already");
    const footOf = (status: string | null) => {
      const contents = bookContents(planned(status));
      return new Map(
        estimateSheet(contents, readBidView(contents)).foot!.map(([, what, , , , value]) => [
          what,
          typeof value === "object" && value !== null && "result" in value
            ? value.result
            : value !== null && typeof value === "object" && "value" in value
              ? value.value
              : value,
        ]),
      );
    };
    const [before, after] = [footOf(null), footOf("cleaned")];
    expect(after.get("of them works that are over, and not bid")).toBe(220);
    expect(after.get("Difference")).toBe(before.get("Difference"));
    expect(Number(before.get("Total")) - Number(after.get("Total"))).toBeCloseTo(220, 9);
  });
});
