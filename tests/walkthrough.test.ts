import { describe, expect, it } from "vitest";
import type { InspectionFile, LateralFile } from "../src/columns/city-file.ts";
import { readInspections } from "../src/intake/inspection-file.ts";
import { readLaterals } from "../src/intake/lateral-file.ts";
import { planLateral } from "../src/plan/plan-lateral.ts";
import { showCrewDays } from "../src/quantity/crew-days.ts";
import { valueWords } from "../src/reference/value-words.ts";
import { lateralAt } from "../src/season/lateral-at.ts";
import { planProgram } from "../src/season/planned-program.ts";
import { numberAt, textAt } from "../src/sheet/table.ts";
import { usBasis } from "./plan/examples.ts";

/**
 * One lateral from the city's file to its bid lines. Every expected number is worked out by hand in the comment
 * beside it, from the inputs of the two files below and the house tables; nothing here was read off the program.
 */
const lateralText = `FACILITYID,BASINID,DIAM,LENGTH,MATERIAL,INSTALLYR,DEPTH_MAIN,DEPTH_BLDG,GW_DEPTH,SURF,MAIN_DIAM,CO,XBORE,USE,BACKUPS
00417,L.S. 14,"4""","40'-0""",VCP,1958,8,8,4,Street,8,Y,cleared,house,1
`;
const inspectionText = `FACILITYID,DATE,ST_GRADE,OM_GRADE,CONN_GRADE,QSR,COMPLETE
00417,6/15/2025,4,2,1,4332,Y
`;

const format = { delimiter: ",", encoding: "utf-8", decimalMark: ".", dateOrder: "month first" } as const;
const laterals: LateralFile = {
  ...format,
  file: "laterals.csv",
  columns: {
    lateral: { heading: "FACILITYID" },
    district: { heading: "BASINID" },
    host_diameter: { heading: "DIAM", unit: "in" },
    host_length: { heading: "LENGTH", unit: "ft" },
    host_material: { heading: "MATERIAL" },
    install_year: { heading: "INSTALLYR" },
    cover_main: { heading: "DEPTH_MAIN", unit: "ft" },
    cover_house: { heading: "DEPTH_BLDG", unit: "ft" },
    water_table_depth: { heading: "GW_DEPTH", unit: "ft" },
    surface: { heading: "SURF" },
    main_diameter: { heading: "MAIN_DIAM", unit: "in" },
    cleanout: { heading: "CO" },
    cross_bore: { heading: "XBORE" },
    building: { heading: "USE" },
    backups: { heading: "BACKUPS" },
  },
};
const inspections: InspectionFile = {
  ...format,
  file: "inspections.csv",
  worstGrade: 5,
  columns: {
    lateral: { heading: "FACILITYID" },
    inspected_on: { heading: "DATE" },
    structural_grade: { heading: "ST_GRADE" },
    om_grade: { heading: "OM_GRADE" },
    connection_grade: { heading: "CONN_GRADE" },
    structural_quick: { heading: "QSR" },
    survey_complete: { heading: "COMPLETE" },
  },
};

async function* chunks(text: string): AsyncGenerator<Uint8Array> {
  yield new TextEncoder().encode(text);
}

async function walk() {
  const rules = { words: valueWords, ownWords: {} };
  const read = await readLaterals(chunks(lateralText), laterals, {
    ...rules,
    districts: { "LS-14": ["L.S. 14"] },
  });
  const surveys = await readInspections(chunks(inspectionText), inspections, rules, read.index);
  const tables = {
    laterals: read.table,
    inspections: surveys.table,
    firstInspection: surveys.first,
    decisions: new Map(),
  };
  const problems = [...read.problems, ...surveys.problems];
  const program = planProgram(tables, usBasis, { problems, tallies: [] });
  return { program, record: planLateral(lateralAt(tables, 0), usBasis) };
}

const MM_PER_INCH = 25.4;
const KPA_PER_PSI = 6.894757;

describe("one lateral, from the city's file to bid lines", () => {
  it("is read with its id as text, its units, and its district by the alias", async () => {
    const { program, record } = await walk();
    expect(program.problems).toEqual([]);
    expect(record.lateral.id).toBe("00417");
    expect(record.lateral.district).toBe("LS-14");
    // 4 in × 25.4; 40 ft × 0.3048.
    expect(record.lateral.hostDiameter?.value).toBeCloseTo(101.6, 9);
    expect(record.lateral.hostLength?.value).toBeCloseTo(12.192, 9);
    expect(record.lateral.hostMaterial?.value).toBe("clay");
  });

  it("is at risk 14.4: likelihood 4.5 × consequence 3.2", async () => {
    const { record } = await walk();
    // Structural 4 → 4, one backup + 0.5; house 0.6 × 2 + street 0.4 × 5 = 3.2.
    expect(record.risk.likelihood?.value).toBe(4.5);
    expect(record.risk.consequence?.value).toBeCloseTo(3.2, 12);
    expect(record.risk.score).toBeCloseTo(14.4, 12);
  });

  it("is lined over its full length: grade 4, three defects of grade 4 and two of grade 3, cleared", async () => {
    const { record } = await walk();
    expect(record.choice.treatment).toBe("full-length liner");
    expect(record.offers.map((offer) => offer.treatment)).toEqual(["full-length liner"]);
  });

  it("asks for 2.00 mm of wall, is specified 3.5 mm, and gets the next stocked 4.5 mm", async () => {
    const { record } = await walk();
    const { wall } = record.chosen;
    if (wall === null) throw new Error("no wall");
    const { design } = wall.worst;
    // Water 4 ft over the crown, 4.333 ft over the invert: P = 62.4 × 4.3333 / 144 = 1.8778 psi.
    expect(design.waterPressure / KPA_PER_PSI).toBeCloseTo(1.8778, 4);
    // C = (0.98 / 1.02²)³ = 0.83575.
    expect(design.ovalityReduction).toBeCloseTo(0.83575, 5);
    // R_w = 1 − 0.33 × 4/8 = 0.835; B′ = 1/(1 + 4·e^(−0.065 × 8)) = 0.29603.
    expect(design.externalLoad?.waterBuoyancy).toBeCloseTo(0.835, 9);
    expect(design.externalLoad?.soilSupport).toBeCloseTo(0.29603, 5);
    // Water 1.7333 + soil 120 × 8 × 0.835/144 = 5.5667 + one HS-20 wheel 4·I(0.0208, 0.1875) × 16000/(36 × 4) = 0.8052:
    // q_t = 8.1052 psi.
    expect((design.externalLoad?.total ?? 0) / KPA_PER_PSI).toBeCloseTo(8.1052, 3);
    // X1.1 4/([2·7·125000·0.83575/(1.8778·2·0.91)]^⅓ + 1) = 0.05238 in; X1.2 0.02693 in at 2,250 psi;
    // X1.3 0.72112·4·[(2·8.1052)²/(125000·0.835·0.29603·0.83575·500)]^⅓ = 0.07875 in; X1.4 4·(12·0.093/250000)^⅓ = 0.06586 in.
    expect((design.walls.buckling ?? 0) / MM_PER_INCH).toBeCloseTo(0.05238, 4);
    expect((design.walls.bending ?? 0) / MM_PER_INCH).toBeCloseTo(0.02693, 4);
    expect((design.walls["soil-buckling"] ?? 0) / MM_PER_INCH).toBeCloseTo(0.07875, 4);
    expect((design.walls.stiffness ?? 0) / MM_PER_INCH).toBeCloseTo(0.06586, 4);
    expect(design.governing).toBe("soil-buckling");
    expect(wall.specified).toMatchObject({
      specifiedMinimum: 3.5,
      stocked: 4.5,
      governedBy: "specified-minimum",
    });
  });

  it("takes 17.593 L of resin", async () => {
    const { record } = await walk();
    // π·(101.6 − 4.5)·4.5 mm² × (12.192 + 0.6 + 0.6) m = 18.3835 L of wall; × 0.87 × 1.1 = 17.5930 L.
    expect(record.chosen.wetOut?.millilitres).toBe(17_593);
  });

  it("cures in 98 minutes of hot water and cools in 42", async () => {
    const { record } = await walk();
    // Polyester at 4.5 mm: 15 → 60 °C at 120 °C/h 22.5 min, hold 20, 60 → 80 °C 10, hold 45 = 97.5 min;
    // 80 → 37.78 °C (100 °F) at 60 °C/h = 42.22 min. Every number of the schedule is an assumption of the house table.
    expect(record.chosen.placed?.cure.curing).toBeCloseTo(97.5, 9);
    expect(record.chosen.placed?.cure.coolDown).toBeCloseTo(42.2222, 4);
  });

  it("keeps a preparation crew 63 and a lining crew 274 minutes, 0.70 of a crew-day", async () => {
    const { record } = await walk();
    // Preparation: 15 + (20 + 1.5 × 12.192 = 38) + 10 = 63; 63/480 = 0.131.
    // Lining: at the house 20 + flush (10 + 0.5 × 12.192 = 16), at the street 20 + wet out (20 + 0.5 × 12.192 = 26) = 46, the longer;
    // + place (20 + 13.392 m at 3 ft/min, 0.9144 m/min) 35 + cure 97.5, half up 98 + (release 5 + cool-down 42.22) 47
    // + trim 20 + camera (10 + 0.25 × 12.192) 13 + pack up 15, beside it 10 = 274; 274/480 = 0.571.
    const { visits, steps, total, outage } = record.chosen.crewTime;
    expect(steps.map((step) => step.minutes)).toEqual([
      15, 38, 10, 20, 20, 16, 26, 35, 98, 47, 20, 13, 10, 15,
    ]);
    expect(visits.map(({ crew, whole }) => [crew, whole])).toEqual([
      ["preparation", 63],
      ["lining", 274],
    ]);
    // Without the cure and the cool-down in which the crew may go on: 274 − 98 − 47.
    expect(visits[1]!.handsOn).toBe(129);
    // From set-up at the house to the end of the camera: 274 − 15.
    expect(outage).toBe(259);
    expect(total).toBe(337);
    // 337/480 = 0.702, rounded once.
    expect(showCrewDays(total, 480)).toBe("0.70");
  });

  it("keeps 78.1 % of its capacity on equal n, and carries more with the smoother wall", async () => {
    const { record } = await walk();
    const capacity = record.chosen.placed?.flow.capacity;
    // (92.6/101.6)^(8/3): ln = 8/3 × ln 0.911417 = 8/3 × (−0.0927544) = −0.247345; e^ = 0.78087.
    expect(capacity?.equalRoughness).toBeCloseTo(0.78087, 4);
    // Clay of grade 4 is worn, n .013 to .017 (Trenchless Technology Piping, 2010, table 2.13), liner .009 to .012: .017/.012 × 0.78087 = 1.1062.
    expect(capacity?.ownRoughness?.least).toBeCloseTo(1.1062, 3);
    // .013/.009 × 0.78087 = 1.1279.
    expect(capacity?.ownRoughness?.most).toBeCloseTo(1.1279, 3);
  });

  it("is paid as one base liner and ten feet more, USD 4,905.00", async () => {
    const { record, program } = await walk();
    // 40 ft − 30 ft included = 10.00 ft × 70.50 = 705.00; + 4,200.00.
    expect(record.chosen.cost.lines).toEqual([
      { item: "full-length liner", variant: "4 in", hundredths: 100, unitPrice: 420_000, extension: 420_000 },
      {
        item: "additional liner length",
        variant: "4 in",
        hundredths: 1000,
        unitPrice: 7050,
        extension: 70_500,
      },
    ]);
    expect(numberAt(program.laterals, "cost", 0)).toBe(490_500);
    expect(program.totals.districts.map(({ district, cost }) => [district, cost])).toEqual([
      ["LS-14", 490_500],
    ]);
    expect(textAt(program.lines, "line", 1)).toBe("additional liner length | 4 in");
  });
});
