import { describe, expect, it } from "vitest";
import { bytesOf, column, recordsOf, SAMPLES } from "./sample-files.ts";

/** The oddities of real city files, one by one, so that none can vanish from the samples unseen. */
describe("the US sample", () => {
  const folder = `${SAMPLES}quennock-falls`;
  const text = bytesOf(folder, "laterals.csv").toString("utf8");
  const surveyText = bytesOf(folder, "inspections.csv").toString("utf8");
  const laterals = recordsOf(text, ",", 1);
  const surveys = recordsOf(surveyText, ",", 0);
  const ids = column(laterals, "FACILITYID");
  const cells = (heading: string) => column(laterals, heading);
  const found = (heading: string) => column(surveys, heading);

  it("starts with a byte order mark, in both files", () => {
    for (const file of ["laterals.csv", "inspections.csv"])
      expect([...bytesOf(folder, file).subarray(0, 3)]).toEqual([0xef, 0xbb, 0xbf]);
  });

  it("has a title, with a comma in it, above the headings", () => {
    expect(text.split("\r\n")[0]).toBe('\ufeff"Sewer laterals, City of Quennock Falls (invented data)"');
  });

  it("has ids with leading zeros, 400 different ones", () => {
    expect(ids).toContain("00417");
    expect(new Set(ids.filter((id) => /^0\d{4}$/.test(id))).size).toBe(400);
  });

  it.each(["4", '4"', "04", "4 IN", "100 mm", "0.33 ft", "6", '6"', "06", "6 IN", "150 mm"])(
    "has the diameter %s",
    (written) => {
      expect(cells("DIAM")).toContain(written);
    },
  );

  it("has lengths in feet and inches, and thousands commas in lengths and coordinates", () => {
    expect(cells("LENGTH").filter((cell) => /^\d+'-\d+"$/.test(cell)).length).toBeGreaterThan(10);
    expect(cells("LENGTH")).toContain("1,155");
    expect(cells("X_COORD").some((cell) => /^1,204,\d{3}\.\d\d$/.test(cell))).toBe(true);
  });

  it("has each way of saying nothing, and zeros beside them", () => {
    const covers = [
      ...cells("COVER_MAIN"),
      ...cells("COVER_BLDG"),
      ...cells("GW_DEPTH"),
      ...cells("CLEANOUT"),
    ];
    for (const missing of ["N/A", "<Null>", "-", "UNK", ""]) expect(covers).toContain(missing);
    const backups = cells("BACKUPS_5Y");
    expect(backups).toContain("0");
    expect(backups).toContain("");
  });

  it("has install years 0 and 9999", () => {
    expect(cells("INST_YEAR")).toContain("0");
    expect(cells("INST_YEAR")).toContain("9999");
  });

  it.each(["LS-14", "LS14", "L.S. 14"])("has the district written %s", (written) => {
    expect(cells("SERVAREA").map((cell) => cell.trim())).toContain(written);
  });

  it("has one id twice in equal rows and one twice in differing rows", () => {
    const twice = ids.filter((id, i) => /^0/.test(id) && ids.indexOf(id) !== i);
    expect(twice).toHaveLength(2);
    const equal = twice.map((id) => {
      const [first, second] = laterals.filter((record) => record["FACILITYID"] === id);
      return JSON.stringify(first) === JSON.stringify(second);
    });
    expect(equal.toSorted()).toEqual([false, true]);
  });

  it("has a subtotal in the middle whose length is the sum above it, with a thousands comma", () => {
    const at = ids.indexOf("SUBTOTAL LS-11");
    expect(at).toBeGreaterThan(50);
    expect(at).toBeLessThan(350);
    expect(laterals[at]!["LENGTH"]).toMatch(/^\d,\d{3}\.\d$/);
    const written = Number(laterals[at]!["LENGTH"]!.replace(",", ""));
    const above = laterals.slice(0, at).filter((record) => record["BASINID"] === "EF");
    const sum = above.reduce((total, { LENGTH = "" }) => {
      const feet = /^(\d+)'-(\d+)"$/.exec(LENGTH);
      return total + (feet === null ? Number(LENGTH) : Number(feet[1]) + Number(feet[2]) / 12);
    }, 0);
    // Lengths in feet and inches were rounded to the inch, half an inch each at most.
    expect(Math.abs(sum - written)).toBeLessThan((above.length * 0.5) / 12);
  });

  it("has a row without an id and a row with nothing in it", () => {
    expect(ids).toContain("<Null>");
    expect(laterals.some((record) => Object.values(record).every((cell) => cell === ""))).toBe(true);
  });

  it("has quoted commas, a quoted line break and cells with spaces at their end", () => {
    expect(cells("ADDRESS").some((cell) => cell.endsWith(", Unit B"))).toBe(true);
    expect(cells("NOTES").some((cell) => cell.includes("\n"))).toBe(true);
    expect(cells("MATERIAL").some((cell) => /\S {2}$/.test(cell))).toBe(true);
    expect(cells("SERVAREA").some((cell) => /\S $/.test(cell))).toBe(true);
  });

  it("has a note that a spreadsheet would run", () => {
    expect(cells("NOTES")).toContain("=1+1");
  });

  it("has columns that the program does not know", () => {
    const settings = bytesOf(folder, "program.json").toString();
    for (const heading of ["OBJECTID", "BASINID", "NOTES"]) {
      expect(Object.keys(laterals[0]!)).toContain(heading);
      expect(settings).not.toContain(`"${heading}"`);
    }
  });

  it.each(["3E00", "0000", "4B27", "3.00E+00", "0"])("has the quick rating %s", (written) => {
    expect([...found("OM_QUICK"), ...found("ST_QUICK")]).toContain(written);
  });

  it("has quick ratings with letters that nobody planted", () => {
    const letters = found("OM_QUICK").filter(
      (quick) => /^[1-5][A-Z]/.test(quick) && quick !== "3E00" && quick !== "4B27",
    );
    expect(letters.length).toBeGreaterThan(5);
  });

  it("has an inspection of a lateral that is not there, and an id without its leading zeros", () => {
    expect(found("LATERAL_REF")).toContain("99417");
    expect(ids).not.toContain("99417");
    expect(found("LATERAL_REF")).toContain("417");
  });

  it.each([
    ["m/d/yyyy", /^\d{1,2}\/\d\/2023$/],
    ["mm/dd/yyyy", /^0\d\/\d\d\/2024$/],
    ["yyyy-mm-dd", /^2025-\d\d-\d\d$/],
    ["yyyy/mm/dd with time and zone", /^20\d\d\/\d\d\/\d\d \d\d:\d\d:00\+00$/],
    ["a spreadsheet's day number", /^4[56]\d{3}$/],
    ["a day that does not exist", /^2\/30\/2024$/],
  ])("has dates written as %s", (_, pattern) => {
    expect(found("INSP_DATE").some((date) => pattern.test(date))).toBe(true);
  });

  it("surveys three seasons, some of them not to the end", () => {
    const years = new Set(found("INSP_ID").map((id) => id.slice(1, 5)));
    expect([...years].toSorted()).toEqual(["2023", "2024", "2025"]);
    for (const reason of ["COLLAPSE", "ROOT BALL", "WATER LEVEL", "BEND"])
      expect(found("STOP_REASON")).toContain(reason);
  });

  it("has one inspection twice, and grades left blank beside grades of 0", () => {
    const rows = surveys.map((record) => JSON.stringify(record));
    expect(rows.length - new Set(rows).size).toBe(1);
    expect(found("ST_GRADE")).toContain("");
    expect(found("ST_GRADE")).toContain("0");
  });

  it("has each cross-bore state, many unknown, and some ovality measured", () => {
    const states = cells("XBORE");
    for (const state of ["CLEARED", "CLR", "NOT CLEARED", "PENDING", "FOUND", "UNK", ""])
      expect(states).toContain(state);
    expect(states.filter((state) => state === "" || state === "UNK").length).toBeGreaterThan(80);
    expect(found("OVALITY_PCT").filter((cell) => cell !== "").length).toBeGreaterThan(40);
  });

  it("has prices that say they are invented", () => {
    const { unit_prices } = JSON.parse(bytesOf(folder, "program.json").toString()) as {
      unit_prices: { source: string };
    };
    expect(unit_prices.source).toBe("Invented prices for the demonstration; not for use");
  });
});

describe("the SI sample", () => {
  const folder = `${SAMPLES}kaltwendel`;
  const bytes = bytesOf(folder, "laterals.csv");
  const text = bytes.toString("latin1");
  const laterals = recordsOf(text, ";", 0);
  const surveys = recordsOf(bytesOf(folder, "inspections.csv").toString("latin1"), ";", 0);

  it("is not UTF-8, and has umlauts in street names and a dash of code page 1252", () => {
    expect(() => new TextDecoder("utf-8", { fatal: true }).decode(bytes)).toThrow();
    expect(column(laterals, "Straße").some((street) => /[äöü]/.test(street))).toBe(true);
    expect(bytes.includes(0x96)).toBe(true);
  });

  it("has 250 laterals, decimal commas, millimetres and dates with dots", () => {
    const ids = column(laterals, "Anschluss-Nr.").filter((id) => id.startsWith("A-"));
    expect(new Set(ids).size).toBe(250);
    for (const record of laterals.filter((row) => row["Anschluss-Nr."]!.startsWith("A-"))) {
      expect(record["Länge [m]"]).toMatch(/^\d+,\d\d$/);
      expect(record["DN"]).toMatch(/^(100|125|150|200)( mm)?$/);
    }
    for (const date of column(surveys, "Datum")) expect(date).toMatch(/^\d{1,2}\.\d{1,2}\.202[345]$/);
    expect(column(laterals, "Ostwert").some((cell) => /^41\d\.\d{3},\d\d$/.test(cell))).toBe(true);
  });

  it("has classes on which 0 is the worst: old stoneware has lower ones than new plastic", () => {
    const mean = (material: string) => {
      const own = surveys.filter(
        (record) => record["Werkstoff"] === material && record["Klasse Standsicherheit"] !== "",
      );
      expect(own.length).toBeGreaterThan(20);
      return own.reduce((sum, record) => sum + Number(record["Klasse Standsicherheit"]), 0) / own.length;
    };
    expect(mean("Steinzeug")).toBeLessThan(mean("PVC-U") - 1);
    expect(JSON.parse(bytesOf(folder, "program.json").toString())).toMatchObject({
      inspections: { worst_grade: 0 },
    });
  });

  it("has a row twice, a subtotal, a lateral that is not there and classes left blank", () => {
    const rows = laterals.map((record) => JSON.stringify(record));
    expect(rows.length - new Set(rows).size).toBe(1);
    expect(column(laterals, "Anschluss-Nr.").some((id) => id.startsWith("Zwischensumme"))).toBe(true);
    expect(column(surveys, "Anschluss-Nr.")).toContain("A-99417");
    expect(column(surveys, "Klasse Betrieb")).toContain("");
  });
});
