import { describe, expect, it } from "vitest";
import { findFormat } from "../../src/intake/file-format.ts";

const format = (text: string, system: "us" | "si" = "us") =>
  findFormat(new TextEncoder().encode(text), system);

describe("finding how a file is written", () => {
  it("finds each separator", () => {
    for (const mark of [",", ";", "\t", "|"])
      expect(format(["id", "diam", "len\n1", "4", "30\n2", "6", "40\n"].join(mark)).delimiter).toBe(mark);
  });

  it("is not misled by decimal commas or by commas in addresses", () => {
    const found = format("id;diam;adresse\n1;0,1;Ost, 3\n2;0,15;West, 4\n");
    expect(found.delimiter).toBe(";");
    expect(found.decimalMark).toBe(",");
  });

  it("is not misled by lists with semicolons inside cells", () => {
    expect(format("id,defects,len\n1,crack;roots,30\n2,roots;hole,40\n").delimiter).toBe(",");
  });

  it("obeys a first line that names the separator", () => {
    const found = format("sep=;\nid;a,b,c,d\n1;2,3,4,5\n");
    expect(found.delimiter).toBe(";");
    expect(found.headings).toEqual(["id", "a,b,c,d"]);
  });

  it("says when there is no separator", () => {
    const found = format("id\n1\n2\n");
    expect(found.headings).toEqual(["id"]);
    expect(found.notes).toContain("No separator found: read as a file of one column.");
  });

  it("recognises a title line above the headings, with or without trailing separators, and says so", () => {
    for (const title of ["Laterals of the town 2025", "Laterals of the town 2025,,,"]) {
      const found = format(`${title}\n\nID,DIAM,LEN,MAT\n1,4,30,VCP\n2,6,40,PVC\n`);
      expect(found.headingRow).toBe(3);
      expect(found.headings).toEqual(["ID", "DIAM", "LEN", "MAT"]);
      expect(found.titles).toEqual(["Laterals of the town 2025"]);
      expect(found.notes.join()).toContain(
        'A title line is above the headings in row 3: "Laterals of the town 2025"',
      );
    }
  });

  it("says when no row looks like headings", () => {
    const found = format("1,4,30\n2,6,40\n");
    expect(found.headingRow).toBeNull();
    expect(found.notes.join()).toContain("No row of headings");
  });

  it("names blank and repeated headings", () => {
    expect(format("ID,DIAM,,DIAM\n1,4,x,5\n").headings).toEqual(["ID", "DIAM", "[column 3]", "DIAM [2]"]);
  });

  it("takes the day first when a first part is above 12, the month first when a second part is", () => {
    expect(format("ID,DATE\n1,13/4/2025\n2,3/4/2025\n").dateOrder).toBe("day first");
    expect(format("ID,DATE\n1,4/13/2025\n2,3/4/2025\n", "si").dateOrder).toBe("month first");
  });

  it("goes by the program's units, or by the semicolon, when dates show nothing, and says so", () => {
    const us = format("ID,DATE\n1,3/4/2025\n");
    expect(us.dateOrder).toBe("month first");
    expect(us.notes.join()).toContain('Check "date_order"');
    expect(format("ID,DATE\n1,3/4/2025\n", "si").dateOrder).toBe("day first");
    expect(format("ID;DATE\n1;3/4/2025\n").dateOrder).toBe("day first");
  });

  it("says when dates contradict each other", () => {
    expect(format("ID,DATE\n1,13/4/2025\n2,4/13/2025\n").notes.join()).toContain(
      "Dates with the day first (1) and with the month first (1)",
    );
  });

  it("keeps the point and says so when commas may be thousands", () => {
    const found = format("ID;LEN\n1;1,234\n2;2,345\n");
    expect(found.decimalMark).toBe(".");
    expect(found.notes.join()).toContain("taken as thousands");
  });

  it("reads UTF-16 and old line ends", () => {
    const text = "ID\tDIAM\r1\t4\r2\t6\r";
    const bytes = Uint8Array.from([0xff, 0xfe, ...text.split("").flatMap((c) => [c.charCodeAt(0), 0])]);
    const found = findFormat(bytes, "us");
    expect(found).toMatchObject({ encoding: "utf-16le", delimiter: "\t", headings: ["ID", "DIAM"] });
    expect(found.sample).toEqual([
      ["1", "4"],
      ["2", "6"],
    ]);
  });

  it("finds something for any bytes, and never throws", () => {
    for (const text of ["", "\n", '"', '"""', ",,,\n,,,", "\ufeff", "a".repeat(70000)])
      expect(format(text).headings.length).toBeGreaterThanOrEqual(0);
  });
});
