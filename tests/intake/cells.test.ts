import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { CellProblem } from "../../src/intake/cell-problem.ts";
import { dayOfSerial, readDate, readYear } from "../../src/intake/date-cell.ts";
import { readCoordinate, readCount, readDegrees, readGrade } from "../../src/intake/number-cells.ts";
import { plainDecimal, plainDecimalIn } from "../../src/intake/plain-decimal.ts";
import { quantityReading } from "../../src/intake/quantity-cell.ts";
import { idDamage, isQuickRating, readQuickRating } from "../../src/intake/text-cells.ts";
import { readWord, wordTable } from "../../src/intake/word-cells.ts";
import { dayOf, isoDate } from "../../src/quantity/calendar.ts";
import { day } from "../../src/quantity/si.ts";

/** The value, or the words of the problem. */
const outcome = <T>(found: T | CellProblem<T>): T | string =>
  typeof found === "object" && found !== null && "remedy" in found
    ? `${found.severity}: ${found.expected}. ${found.remedy}`
    : (found as T);

describe("everyday decimals", () => {
  it("are exactly what Number reads", () => {
    fc.assert(
      fc.property(fc.integer({ min: -1e9, max: 1e9 }), fc.integer({ min: 0, max: 6 }), (whole, decimals) => {
        const text = (whole / 10 ** decimals).toFixed(decimals);
        expect(plainDecimal(text, ".")).toBe(Number(text));
        expect(plainDecimal(text.replace(".", ","), ",")).toBe(Number(text));
      }),
    );
  });

  it("are that to fifteen digits, the mark anywhere, wherever in the file they stand", () => {
    const digits = fc.stringMatching(/^[0-9]{1,15}$/);
    fc.assert(
      fc.property(digits, fc.nat(15), fc.constantFrom("", "-"), fc.nat(3), (all, at, sign, from) => {
        const place = Math.min(at, all.length);
        const text = `${sign}${all.slice(0, place)}.${all.slice(place)}`;
        const bytes = new TextEncoder().encode(`${"9".repeat(from)}${text}9`);
        expect(plainDecimalIn(bytes, 46, from, from + text.length)).toBe(Number(text));
        expect(plainDecimal(`${sign}${all}`, ".")).toBe(Number(`${sign}${all}`));
      }),
    );
  });

  it("leave everything else to the slower readers", () => {
    const many = ["1234567890123456", "1234567890.123456", "-1234567890.123456"];
    for (const text of [
      "",
      "-",
      ".",
      "-.",
      "1e5",
      "0x10",
      "1,234",
      "4 in",
      " 4",
      "1.2.3",
      ".1.2",
      "--1",
      ...many,
    ])
      expect(plainDecimal(text, ".")).toBeNaN();
  });
});

describe("dates", () => {
  const iso = (text: string, order: "month first" | "day first" = "month first") => {
    const found = readDate(text, order);
    return typeof found === "number" ? isoDate(day(found)) : `${found.severity}: ${found.remedy}`;
  };

  it("are read in every form of the list", () => {
    for (const text of [
      "2025-03-04",
      "2025/03/04",
      "2025/3/4",
      "2025/03/04 10:30:00+00",
      "2025-03-04T10:30:00.000Z",
      "3/4/2025",
      "03/04/2025",
      "3/4/2025 4:15 PM",
      "3-4-2025",
      "4.3.2025",
      "04.03.2025",
      "20250304",
      // 20151 days from 1970-01-01 to 2025-03-04 (55 years × 365 + 14 leap days + 62), + 25569 for a serial,
      // × 86 400 000 for milliseconds.
      "45720",
      "45720.75",
      "1741046400000",
    ])
      expect([text, iso(text)]).toEqual([text, "2025-03-04"]);
  });

  it("have the day first where the file says so, and always with dots", () => {
    expect(iso("3/4/2025", "day first")).toBe("2025-04-03");
    expect(iso("4.3.2025", "day first")).toBe("2025-03-04");
  });

  it("with a month's name need no order, in English or German, in any case", () => {
    for (const order of ["month first", "day first"] as const)
      for (const text of [
        "24 Apr 2021",
        "24 April 2021",
        "24 APRIL 2021",
        "24-Apr-2021",
        "24-apr-2021",
        "24/Apr/2021",
        "24APR2021",
        "24th April, 2021",
        "24. April 2021",
        "24 Apr. 2021",
        "Apr 24, 2021",
        "APR 24 2021",
        "Apr. 24, 2021",
        "April 24th, 2021",
        "2021-Apr-24",
        "24-Apr-2021 10:30:00",
        "Apr 24, 2021 4:15 PM",
      ])
        expect([text, iso(text, order)]).toEqual([text, "2021-04-24"]);
  });

  it("know the names of all months and their first letters", () => {
    const english = "Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec".split(" ");
    const german = "Januar Februar März April Mai Juni Juli August September Oktober November Dezember".split(
      " ",
    );
    const short = "Jän Feb Mrz Apr Mai Jun Jul Aug Sept Okt Nov Dez".split(" ");
    for (const [name, month] of [
      ["Jänner", "01"],
      ["Maerz", "03"],
    ] as const)
      expect(iso(`7. ${name} 2021`)).toBe(`2021-${month}-07`);
    for (const names of [english, german, short])
      expect(names.map((name) => iso(`7. ${name} 2021`).slice(5, 7))).toEqual(
        names.map((_, i) => String(i + 1).padStart(2, "0")),
      );
  });

  it("with a month's name are refused where the century, the day or the month is not known", () => {
    for (const text of ["24-Apr-21", "24 apr 21", "Apr 24, 21"]) expect(iso(text)).toContain("four digits");
    expect(iso("31 Apr 2021")).toContain("Correct the day");
    expect(iso("24 Avril 2021")).toContain('"Avril" is no month\'s name that is known');
    expect(iso("Mayor 24, 2021")).toContain('"Mayor" is no month');
    for (const text of ["Apr 2021", "24 Apr", "24 Apr 2021 noon", "Apr 24 10:30", "24 Apr 202"])
      expect(iso(text)).toContain("Write it like 2025-03-04");
  });

  it("are never turned round to make them fit", () => {
    expect(iso("13/4/2025")).toContain('set "date_order": "day first"');
    expect(iso("4/13/2025", "day first")).toContain('set "date_order": "month first"');
    expect(outcome(readDate("13/12/2025", "month first"))).toBe(
      'rejected: a date with the month first. If this file writes the day first, set "date_order": "day first" for it in program.json.',
    );
    expect(outcome(readDate("12/13/2025", "day first"))).toContain("rejected: a date with the day first");
    // Neither order makes a date of it.
    expect(iso("13/13/2025")).toContain("Correct the day or the month");
  });

  it("are refused with a two-digit year", () => {
    expect(iso("3/4/25")).toContain("four digits");
    expect(iso("04.03.25")).toContain("four digits");
  });

  it("are refused when they do not exist or are not dates", () => {
    expect(iso("2/29/2025")).toContain("Correct the day");
    expect(iso("2024-02-29")).toBe("2024-02-29");
    expect(iso("2025")).toContain("A year alone");
    for (const text of ["yesterday", "3/4", "3/4/2025 noon", "1/2/3/4", "2025-03-04-05", "-5"])
      expect(iso(text)).toContain("Write it like 2025-03-04");
  });

  it("that stand for no date are missing and noted", () => {
    for (const text of ["12/30/1899", "1/1/1900", "1970-01-01", "9999-12-31"])
      expect(iso(text)).toContain("noted: This day is what systems write");
  });

  it("from a spreadsheet count a 29 February 1900 that never was", () => {
    // The 1900 system: 1 = 1 January 1900, 59 = 28 February, 60 does not exist, 61 = 1 March; 25569 = 1 January 1970.
    expect(dayOfSerial(1)).toBe(dayOf(1900, 1, 1));
    expect(dayOfSerial(59)).toBe(dayOf(1900, 2, 28));
    expect(dayOfSerial(60)).toBeNull();
    expect(dayOfSerial(61)).toBe(dayOf(1900, 3, 1));
    expect(dayOfSerial(25569)).toBe(0);
    expect(dayOfSerial(0)).toBeNull();
  });

  it("written in any form read back as the same day", () => {
    // 1990 to 2060, without the days that stand for none.
    fc.assert(
      fc.property(fc.integer({ min: 7305, max: 32872 }), (number) => {
        const [y, m, d] = isoDate(day(number)).split("-");
        expect(readDate(`${m}/${d}/${y}`, "month first")).toBe(number);
        expect(readDate(`${d}/${m}/${y}`, "day first")).toBe(number);
        expect(readDate(`${y}${m}${d}`, "day first")).toBe(number);
        expect(readDate(String(number + 25569), "day first")).toBe(number);
      }),
    );
  });
});

describe("years", () => {
  const year = (text: string) => outcome(readYear(text, "month first", [1850, 2100]));

  it("that are only about so are missing, and the message says so and what to write", () => {
    for (const text of ["ca. 1950", "1950er", "vor 1950", "1950?"])
      expect(year(text)).toBe(
        "rejected: a year, or a date with a four-digit year. Taken as missing. If 1950 is near enough, write 1950.",
      );
    expect(year("1950-60")).toContain("Taken as missing.");
    expect(year("old")).toContain("Taken as missing.");
  });

  it("are four digits or the year of a date", () => {
    for (const text of ["1962", "1962.0", "6/1/1962", "1-Jun-1962", "1962-06-01", "1962/06/01 00:00:00+00"])
      expect(year(text)).toBe(1962);
    // Milliseconds before 1970 are negative: 1962-06-01 is 2771 days before (7 years × 365 + 2 leap days + 214).
    expect(year(String(-2771 * 86_400_000))).toBe(1962);
  });

  it("after the program's day are not there yet", () => {
    const by2026 = (text: string) => outcome(readYear(text, "month first", [1850, 2100], 2026));
    expect(by2026("2026")).toBe(2026);
    for (const text of ["2027", "2027-01-01"])
      expect(by2026(text)).toContain('a year up to 2026, the year of "as_of" in program.json');
  });

  it("0 and 9999 are unknown, 1900 is kept and noted", () => {
    expect(year("0")).toContain("noted: a year. It stands for an unknown year");
    expect(year("9999")).toContain("noted");
    expect(year("12/30/1899")).toContain("noted");
    expect(readYear("1900", "month first", [1850, 2100])).toMatchObject({ severity: "noted", value: 1900 });
  });

  it("of two digits, of five, or outside belief are refused", () => {
    expect(year("62")).toContain("rejected: a year of four digits. Write all four digits");
    // As printed for a 1930s pipe in the table of City of Santa Ana CA, Water & Sewer Rate Study, 2014, p. 142.
    expect(year("19306")).toContain("rejected");
    expect(year("1730")).toContain("a year from 1850 to 2100");
    expect(year("1930s")).toContain("rejected");
  });
});

describe("quantities", () => {
  const diameter = quantityReading("diameter", "in", ".", [50, 400]);
  const length = quantityReading("length", "ft", ".", [0.5, 150]);

  it("are in the column's unit unless they say their own", () => {
    for (const text of ["4", "04", "4.0", '4"', "4 IN", "4 in.", "101.6 mm", "10.16 cm"])
      expect(diameter(text)).toBeCloseTo(101.6, 9); // 4 × 25.4 mm
    expect(length("37'-6\"")).toBeCloseTo(11.43, 9); // 37.5 × 0.3048 m
    expect(quantityReading("length", "m", ",", [0.5, 150])("11,43")).toBe(11.43);
  });

  it("outside belief are refused with the unit that was probably meant", () => {
    expect(outcome(diameter("100"))).toBe(
      'rejected: 1.97 to 15.7 in. If mm are meant, write "100 mm" or set the column\'s "unit" to "mm" in program.json.',
    );
    expect(outcome(diameter("0.33"))).toContain('write "0.33 ft"'); // 0.33 ft is 100 mm, a 4 in pipe
    expect(outcome(diameter("5000"))).toContain("Correct the value");
    expect(outcome(length("0.2"))).not.toContain("meant");
    // 12 mm are not believable, 12 in would be: but nobody who measures in mm writes inches.
    expect(outcome(quantityReading("diameter", "mm", ".", [50, 400])("12"))).toBe(
      'rejected: 50 to 400 mm. If cm are meant, write "12 cm" or set the column\'s "unit" to "cm" in program.json.',
    );
    expect(outcome(quantityReading("length", "mm", ".", [0.5, 150])("400000"))).toContain(
      "Correct the value",
    );
    expect(outcome(quantityReading("length", "ft", ".", [0.5, 150])("900"))).toContain(
      'If inches are meant, write "900 in"',
    );
  });

  it("are held to what is believable in their own unit too, and then no other unit is proposed", () => {
    expect(diameter("50 mm")).toBeCloseTo(50, 9);
    // 16 in are 406.4 mm; the city's own unit is named for the range.
    for (const text of ["49 mm", "401 mm", "16 in", "4 ft", "1 mm"])
      expect(outcome(diameter(text))).toBe(
        "rejected: 1.97 to 15.7 in. Taken as missing. Correct the value, or leave the cell empty.",
      );
  });

  it("at the very ends of the range are taken", () => {
    const reading = quantityReading("diameter", "mm", ".", [50, 400]);
    expect([reading("50"), reading("400")]).toEqual([50, 400]);
    expect(outcome(reading("49.99"))).toContain("rejected");
  });

  it("that are not a number are refused, with the form to write", () => {
    expect(outcome(diameter("four"))).toContain("rejected");
    expect(outcome(diameter("4;6"))).toContain("rejected");
    expect(outcome(diameter("4 kg"))).toContain("rejected");
  });
});

describe("grades", () => {
  it("keep 0 apart from missing and turn the city's scale to 5 = worst", () => {
    expect(["0", "1", "3", "5", "3.0"].map((g) => readGrade(g, 5, "."))).toEqual([0, 1, 3, 5, 3]);
    // 1 worst: 6 − g. 0 worst (0 immediate … 5 no deficit): 5 − g.
    expect(["1", "3", "5"].map((g) => readGrade(g, 1, "."))).toEqual([5, 3, 1]);
    expect(["0", "3", "5"].map((g) => readGrade(g, 0, "."))).toEqual([5, 2, 0]);
  });

  it("refuse a 0 on a scale from 1 (worst): it may mean no defect or not rated", () => {
    expect(outcome(readGrade("0", 1, "."))).toContain("A 0 may mean no defect or not rated");
  });

  it("refuse halves, 6 and words", () => {
    for (const text of ["2.5", "6", "-1", "good"])
      expect(outcome(readGrade(text, 5, "."))).toContain("rejected: a whole grade from 0 to 5");
    for (const text of ["2.5", "6"])
      expect(outcome(readGrade(text, 1, "."))).toContain("rejected: a whole grade from 1 to 5");
  });
});

describe("counts and coordinates", () => {
  it("take thousands marks and refuse fractions", () => {
    expect(readCount("1,234", [0, 2000], ".")).toBe(1234);
    expect(readCount("1.234", [0, 2000], ",")).toBe(1234);
    expect(outcome(readCount("1.5", [0, 200], "."))).toContain("rejected");
    expect(outcome(readCount("201", [0, 200], "."))).toContain("0 to 200");
  });

  it("take any plain coordinate and refuse exponents, whose digits are lost", () => {
    expect(readCoordinate("-122.4194155", ".")).toBe(-122.4194155);
    expect(readCoordinate("2,123,456.78", ".")).toBe(2123456.78);
    expect(outcome(readCoordinate("1.23E+06", "."))).toContain("plain numbers");
  });
});

describe("turns", () => {
  it("are degrees, with or without their mark", () => {
    const read = (text: string) => outcome(readDegrees(text, [0, 180], "."));
    expect(["45", "22.5", "45°", "45 deg", "90 degrees"].map(read)).toEqual([45, 22.5, 45, 45, 90]);
    expect(read("181")).toContain("degrees from 0 to 180");
    expect(read("1/8")).toContain("45 for a 1/8 bend");
  });
});

describe("quick ratings", () => {
  it("are recognised: four characters, second grade below the first", () => {
    // 5236: City of Santa Ana CA, Sewer Rate Study, 2014, App. B p. 240. 4100, 4500: one hole, five holes of grade 4.
    for (const text of ["5236", "4100", "4500", "0000", "3E00", "2E13", "5A4Z"])
      expect([text, isQuickRating(text)]).toEqual([text, true]);
    for (const text of ["", "0", "5256", "3635", "6100", "5036", "5230", "0036", "52361", "3e00", "41"])
      expect([text, isQuickRating(text)]).toEqual([text, false]);
  });

  it("are kept exactly, and what a spreadsheet did to them is noted", () => {
    expect(readQuickRating("3E00")).toBe("3E00");
    expect(readQuickRating("0000")).toBe("0000");
    expect(readQuickRating("0")).toMatchObject({
      severity: "noted",
      value: "0",
      remedy: expect.stringContaining("leading zeros"),
    });
    expect(readQuickRating("3.00E+00")).toMatchObject({
      value: "3.00E+00",
      remedy: expect.stringContaining("for a number"),
    });
    expect(readQuickRating("5256")).toMatchObject({ severity: "noted", value: "5256" });
  });
});

describe("ids", () => {
  it("that a spreadsheet shortened or took for numbers are noted and kept", () => {
    expect(idDamage("1.23E+11")).toMatchObject({ severity: "noted", value: "1.23E+11" });
    expect(idDamage("417.0")).toMatchObject({ severity: "noted", value: "417.0" });
  });

  it("of other kinds are left alone", () => {
    for (const id of ["00417", "L-1.23", "12E5", "A+1", "417.10"])
      expect([id, idDamage(id)]).toEqual([id, null]);
  });
});

describe("words", () => {
  const words = ["clay", "PVC"];
  const table = wordTable(
    "host_material",
    words,
    { clay: ["VCP", "vitrified clay pipe"] },
    { LINED: "PVC", "?": "" },
  );
  const word = (text: string) => outcome(readWord(text, table, "host_material", words));

  it("are known by any spelling, case and punctuation", () => {
    for (const text of ["VCP", "vcp", "V.C.P.", "Clay", " vitrified-clay pipe"])
      expect(word(text)).toBe("clay");
  });

  it("follow the program's own words", () => {
    expect(word("lined")).toBe("PVC");
  });

  it("of a code with its meaning count when both say the same", () => {
    expect(word("VCP - Vitrified Clay Pipe")).toBe("clay");
    expect(word("Clay (VCP)")).toBe("clay");
    expect(word("VCP / PVC")).toContain("rejected");
    expect(word("VCP - lined 2004")).toContain("rejected");
  });

  it("that are not known are missing, with the setting to write and no meaning proposed", () => {
    expect(word("brick")).toBe(
      'rejected: clay, PVC. Taken as missing. If it is one of these, write that one for … in program.json: "words": { "host_material": { "…": ["brick"] } }.',
    );
  });

  it("refuse a shared table that leads to a word the column does not have", () => {
    expect(() => wordTable("host_material", words, { brick: ["br"] }, undefined)).toThrow(/brick/);
  });
});
