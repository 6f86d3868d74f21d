import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { inspectionColumns, lateralColumns } from "../../src/columns/lateral-columns.ts";
import { certainPlaces, matchHeadings } from "../../src/intake/heading-match.ts";
import { uniqueHeadings } from "../../src/intake/headings.ts";
import { linesForAssumedUnits, linesForUncertain } from "../../src/intake/match-lines.ts";
import { headerWords } from "../../src/reference/header-words.ts";

const match = (...headings: string[]) =>
  matchHeadings(uniqueHeadings(headings), lateralColumns, headerWords.laterals, "us");
const surveyMatch = (...headings: string[]) =>
  matchHeadings(uniqueHeadings(headings), inspectionColumns, headerWords.inspections, "us");
const places = (...headings: string[]) => certainPlaces(match(...headings));
const candidates = (key: string, ...headings: string[]) => {
  const found = match(...headings).find((m) => m.key === key);
  return found?.kind === "uncertain" ? found.candidates.map(({ heading }) => heading) : found?.kind;
};

describe("finding our columns among a file's headings", () => {
  it("knows the field names of public lateral layers", () => {
    expect(
      places("OBJECTID", "FACILITYID", "DIAMETER", "INSTALLDATE", "BASINID", "MATERIAL", "OWNEDBY"),
    ).toEqual({
      lateral: { heading: "FACILITYID" },
      district: { heading: "BASINID" },
      host_diameter: { heading: "DIAMETER", unit: "in" },
      host_material: { heading: "MATERIAL" },
      install_year: { heading: "INSTALLDATE" },
    });
  });

  it("does not care for case, spaces, punctuation or accents", () => {
    for (const heading of ["lateral_id", "Lateral ID", "LateralId", "LATERAL-ID", "  lateral.id "])
      expect(places(heading)).toEqual({ lateral: { heading: heading.trim() } });
    expect(places("Länge (m)")).toEqual({ host_length: { heading: "Länge (m)", unit: "m" } });
    expect(places("DIAMÈTRE")).toEqual({ host_diameter: { heading: "DIAMÈTRE", unit: "in" } });
  });

  it("takes the unit a heading names", () => {
    expect(places("LENGTH_FT", "DIAM_MM")).toEqual({
      host_length: { heading: "LENGTH_FT", unit: "ft" },
      host_diameter: { heading: "DIAM_MM", unit: "mm" },
    });
    for (const [heading, unit] of [
      ["Length (m)", "m"],
      ["Length [ft]", "ft"],
      ['Diameter (")', "in"],
      ["DIAMETER IN", "in"],
      ["length_cm", "cm"],
      ['DIAM "', "in"],
    ] as const)
      expect(Object.values(places(heading))).toEqual([{ heading, unit }]);
  });

  it("takes a sign of percent for the unit of a part", () => {
    const assumed = (heading: string) =>
      linesForAssumedUnits("inspections", surveyMatch(heading)).map((line) => line.slice(0, 30));
    for (const heading of [
      "Ovality %",
      "OVALITY_%",
      "Ovality%",
      "Ovality, %",
      "Ovality (%)",
      "Ovality % [2]",
      "Ovality (in %)",
      "Ovalität in %",
      "Ovality in percent",
      "% Ovality",
    ]) {
      const place = certainPlaces(surveyMatch(heading)).ovality;
      expect([place, assumed(heading)]).toEqual([{ heading, unit: "percent" }, []]);
    }
    expect(assumed("Ovality")).toHaveLength(2);
    // A part of a length is no length, no more than one in kilograms is.
    for (const heading of ["Length %", "Length (%)", "Length [%]", "% Length", "Length in %", "LENGTH_PCT"])
      expect(candidates("host_length", heading)).toEqual([heading]);
    expect(candidates("bends", "Bends (%)")).toEqual(["Bends (%)"]);
  });

  it("takes degrees for a turn, and for no length or slope", () => {
    const lengths = ["Length (°)", "Length °", "Length (deg)", "Length (in degrees)", "LENGTH_DEG"];
    for (const heading of lengths) expect(candidates("host_length", heading)).toEqual([heading]);
    expect(candidates("slope", "Slope (°)")).toEqual(["Slope (°)"]);
    for (const heading of ["Sharpest bend (°)", "Sharpest bend °", "Sharpest bend (deg.)", "MAX_BEND_DEG"])
      expect(places(heading)).toEqual({ sharpest_bend: { heading } });
    expect(places("X (°)")).toEqual({ x: { heading: "X (°)" } });
    // The sign of a number, and of a temperature.
    expect(places("Lateral No°")).toEqual({ lateral: { heading: "Lateral No°" } });
    expect(linesForUncertain("laterals", match("Length (°C)"), lateralColumns)[0]).toContain("says °C,");
  });

  it("takes a sign of parts in a thousand for that, ten times less than percent", () => {
    for (const heading of ["Slope (‰)", "Gefälle in ‰", "Slope permille"])
      expect(places(heading)).toEqual({ slope: { heading, unit: "permille" } });
  });

  it("reads past the word that leads to a unit", () => {
    for (const [heading, unit] of [
      ["Länge in m", "m"],
      ["Longueur en m", "m"],
      ["LENGTH_IN_FT", "ft"],
      ["Length (in feet)", "ft"],
      ["Length in", "in"],
    ] as const)
      expect(places(heading)).toEqual({ host_length: { heading, unit } });
  });

  it("does not take a word for a unit of something else", () => {
    for (const heading of ["LENGTH_KG", "Length (kg)", "Length ($)"])
      expect(candidates("host_length", heading)).toEqual([heading]);
  });

  it("says when the unit is only the program's own", () => {
    expect(linesForAssumedUnits("laterals", match("DIAM", "LENGTH_FT"))).toEqual([
      '"DIAM" names no unit: bare numbers are read as inches, the program\'s own. If they are in another, write it for … in:',
      '  "laterals": { "columns": { "host_diameter": { "heading": "DIAM", "unit": "…" } } }',
    ]);
  });

  it("prefers the column's own name to a usual one", () => {
    expect(places("ASSET_ID", "LATERAL_ID")).toEqual({ lateral: { heading: "LATERAL_ID" } });
  });

  it("leaves two equally good headings to a person", () => {
    expect(candidates("lateral", "FACILITYID", "ASSETID")).toEqual(["FACILITYID", "ASSETID"]);
    expect(candidates("host_diameter", "DIAM", "DIAM")).toEqual(["DIAM", "DIAM [2]"]);
    expect(candidates("x", "X", "LONGITUDE")).toEqual(["X", "LONGITUDE"]);
  });

  it("never uses a heading that is only perhaps right", () => {
    expect(candidates("lateral", "OBJECTID", "DIAM")).toEqual(["OBJECTID"]);
    expect(candidates("cover_main", "DEPTH")).toEqual(["DEPTH"]);
    expect(candidates("cover_house", "DEPTH")).toEqual(["DEPTH"]);
    expect(places("OBJECTID", "DEPTH")).toEqual({});
  });

  it("offers a heading with a slip of the keyboard or with more words", () => {
    expect(candidates("host_diameter", "DIAMETR")).toEqual(["DIAMETR"]);
    expect(candidates("host_material", "EXISTING MATERIAL")).toEqual(["EXISTING MATERIAL"]);
  });

  it("offers no heading that is certainly another column's", () => {
    expect(candidates("host_diameter", "MAIN_DIAMETER")).toBe("absent");
    expect(places("MAIN_DIAMETER")).toEqual({ main_diameter: { heading: "MAIN_DIAMETER", unit: "in" } });
  });

  it("knows the headings of an inspection export", () => {
    const found = matchHeadings(
      [
        "Lateral ID",
        "Inspection Date",
        "Structural Grade",
        "O&M Grade",
        "Structural Quick Rating",
        "Length Surveyed (ft)",
        "Remarks",
      ],
      inspectionColumns,
      headerWords.inspections,
      "us",
    );
    expect(certainPlaces(found)).toEqual({
      lateral: { heading: "Lateral ID" },
      inspected_on: { heading: "Inspection Date" },
      structural_grade: { heading: "Structural Grade" },
      om_grade: { heading: "O&M Grade" },
      structural_quick: { heading: "Structural Quick Rating" },
      surveyed_length: { heading: "Length Surveyed (ft)", unit: "ft" },
    });
  });

  it("prints the lines to put into program.json for what is not certain", () => {
    const lines = linesForUncertain(
      "laterals",
      match("FACILITYID", "ASSETID", "PIPE SIZE (mm)", "PIPE SIZE"),
      lateralColumns,
    );
    expect(lines).toContain('  "laterals": { "columns": { "lateral": { "heading": "ASSETID" } } }');
    expect(lines).toContain(
      '  "laterals": { "columns": { "host_diameter": { "heading": "PIPE SIZE (mm)", "unit": "mm" } } }',
    );
    for (const line of lines.filter((text) => text.startsWith("  ")))
      expect(() => JSON.parse(`{${line}}`)).not.toThrow();
  });

  it("leaves the unit open where the heading says one of something else", () => {
    const lines = linesForUncertain("laterals", match("Length (%)"), lateralColumns);
    expect(lines[0]).toContain('"Length (%)" says %, which is no unit of it.');
    expect(lines.slice(1)).toEqual([
      '  "laterals": { "columns": { "host_length": { "heading": "Length (%)", "unit": "?" } } }',
    ]);
    const ofTurn = linesForUncertain("laterals", match("Length (deg)"), lateralColumns);
    expect(ofTurn[0]).toContain('"Length (deg)" says degrees, which is no unit of it.');
    expect(ofTurn[1]).toContain('"unit": "?"');
  });

  it("looks at as many headings as a file may have columns, and at none beyond", () => {
    const others = Array.from({ length: 999 }, (_, i) => `Q${i}`);
    expect(places(...others, "FACILITYID").lateral).toEqual({ heading: "FACILITYID" });
    expect(places(...others, "Q999", "FACILITYID").lateral).toBeUndefined();
  });

  it("survives any headings, and gives a heading to one column only", () => {
    fc.assert(
      fc.property(
        fc.array(fc.oneof(fc.string(), fc.constantFrom("__proto__", "constructor", "ID", "DEPTH", "X"))),
        (raw) => {
          const headings = uniqueHeadings(raw);
          expect(new Set(headings).size).toBe(raw.length);
          const used = Object.values(places(...raw)).map(({ heading }) => heading);
          expect(new Set(used).size).toBe(used.length);
          for (const heading of used) expect(headings).toContain(heading);
        },
      ),
    );
  });
});
