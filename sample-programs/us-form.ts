import type { Building, HostMaterial, Surface } from "../src/columns/lateral-columns.ts";
import { dateOf, isoDate } from "../src/quantity/calendar.ts";
import { toShown } from "../src/quantity/measure.ts";
import { type CityForm, placesOf, type SurveyRow } from "./city-form.ts";
import type { SampleCrossBore, SampleLateral } from "./city-model.ts";
import { padded, thousands } from "./csv-row.ts";
import { type Planted, withCell } from "./planting.ts";
import type { Random } from "./random.ts";
import type { StopReason } from "./survey-model.ts";
import { usKinds, usObservationHeadings, writeUsObservations } from "./us-observations.ts";
import { usInspectionHeadings, usLateralHeadings, writeUsInspection, writeUsLateral } from "./us-rows.ts";

/** Codes of the city's map department. */
const MATERIALS: Readonly<Record<HostMaterial, readonly string[]>> = {
  clay: ["VCP", "VCP", "VCP", "VC", "Clay"],
  concrete: ["CONC", "RCP"],
  "cast iron": ["CI", "CI", "Cast Iron"],
  "ductile iron": ["DIP"],
  steel: ["STL"],
  PVC: ["PVC", "PVC", "PVC", "pvc", "SDR 35"],
  ABS: ["ABS"],
  polyethylene: ["HDPE"],
  "bituminous fibre": ["FBR"],
  "asbestos cement": ["AC", "ACP"],
};
const SURFACES: Readonly<Record<Surface, readonly string[]>> = {
  street: ["STREET", "STREET", "ST PVMT"],
  alley: ["ALLEY"],
  driveway: ["DRIVEWAY", "DRIVE"],
  sidewalk: ["SIDEWALK", "SW"],
  yard: ["YARD", "LAWN", "TREELAWN"],
  railway: ["RAILROAD", "RR"],
};
const BUILDINGS: Readonly<Record<Building, readonly string[]>> = {
  house: ["SFR", "SFR", "RES"],
  apartments: ["MF", "APTS"],
  business: ["COMM", "RETAIL"],
  restaurant: ["REST", "FOOD SVC"],
  school: ["SCH"],
  hospital: ["HOSP"],
  industry: ["IND"],
};
const CROSS_BORES: Readonly<Record<SampleCrossBore, readonly string[]>> = {
  cleared: ["CLEARED", "CLEARED", "CLR"],
  "not cleared": ["NOT CLEARED", "PENDING"],
  found: ["FOUND"],
};
const STOPS: Readonly<Record<StopReason, string>> = {
  collapse: "COLLAPSE",
  "root ball": "ROOT BALL",
  "water level": "WATER LEVEL",
  bend: "BEND",
  camera: "CAMERA FAILURE",
};

/** The city's words that the program's own list does not have, by our word; they go into program.json. */
export const usWords = {
  host_material: { "bituminous fibre": ["FBR"] },
  surface: { street: ["ST PVMT"], yard: ["TREELAWN"] },
  building: { restaurant: ["FOOD SVC"] },
  cross_bore: { cleared: ["CLR"] },
} as const;

const MISSING = ["", "", "N/A", "<Null>", "-", "UNK"] as const;
const at = placesOf(usLateralHeadings);
const NOTES = usLateralHeadings.findIndex(({ heading }) => heading === "NOTES");

function dressLateral(cells: string[], lateral: SampleLateral, random: Random): void {
  cells[at.district] = random.chance(0.12) ? random.pick(lateral.district.aliases) : lateral.district.name;
  cells[at.host_diameter] = diameterAsWritten(cells[at.host_diameter]!, random);
  if (random.chance(0.1)) cells[at.host_length] = feetAndInches(Number(cells[at.host_length]));
  cells[at.host_material] = random.pick(MATERIALS[lateral.material]);
  cells[at.surface] = random.pick(SURFACES[lateral.surface]);
  cells[at.building] = random.pick(BUILDINGS[lateral.building]);
  cells[at.cleanout] = random.chance(0.8) ? (lateral.cleanout ? "Y" : "N") : lateral.cleanout ? "Yes" : "No";
  cells[at.cross_bore] =
    lateral.crossBore === null ? random.pick(["", "", "UNK"]) : random.pick(CROSS_BORES[lateral.crossBore]);
  if (random.chance(0.04)) cells[at.install_year] = random.pick(["0", "9999", ""]);
  if (random.chance(0.05)) {
    cells[at.x] = thousands(Number(cells[at.x]), 2, ".");
    cells[at.y] = thousands(Number(cells[at.y]), 2, ".");
  }
  if (random.chance(0.06)) cells[at.location] = `${cells[at.location]}, Unit B`;
  if (random.chance(0.05)) cells[NOTES] = random.pick(REMARKS);

  for (const [key, part] of MISSING_PARTS) if (random.chance(part)) cells[at[key]] = random.pick(MISSING);
  if (random.chance(0.05)) cells[at.host_material] += "  ";
  if (random.chance(0.03)) cells[at.district] += " ";
}

/** How often a cell of a column says nothing. Invented; nobody has measured how well every city knows its laterals. */
const MISSING_PARTS = [
  ["host_diameter", 0.01],
  ["host_length", 0.008],
  ["host_material", 0.02],
  ["cover_main", 0.04],
  ["cover_house", 0.05],
  ["water_table_depth", 0.07],
  ["surface", 0.02],
  ["main_diameter", 0.03],
  ["cleanout", 0.05],
  ["building", 0.02],
  ["backups", 0.05],
  ["district", 0.005],
] as const;

const REMARKS = [
  "wye at 2 o'clock, per old tap card",
  "tap card illegible",
  "repaired by owner, date not known",
  "shared with next lot?",
  "see sheet 14, detail C",
] as const;

/** One size in the ways people write it; 0.33 ft is 4 in taken from a plan in feet. */
function diameterAsWritten(inches: string, random: Random): string {
  const draw = random.next();
  if (draw < 0.12) return `${inches}"`;
  if (draw < 0.2) return inches.padStart(2, "0");
  if (draw < 0.28) return `${inches} IN`;
  const millimetres = { "3": "75", "4": "100", "6": "150", "8": "200" }[inches];
  if (draw < 0.32 && millimetres !== undefined) return `${millimetres} mm`;
  if (draw < 0.35 && inches === "4") return "0.33 ft";
  return inches;
}

/** 37.5 → `37'-6"`, to the nearest inch. */
function feetAndInches(feet: number): string {
  const inches = Math.round(feet * 12);
  return `${Math.floor(inches / 12)}'-${inches % 12}"`;
}

const plantedLaterals: readonly Planted<SampleLateral>[] = [
  {
    what: "a note with a line break inside its quotes",
    at: 0.06,
    turn: (cells) => [
      withCell(cells, NOTES, "locate before digging:\ngas on the north side, water on the south"),
    ],
  },
  {
    what: "a note that a spreadsheet would run as a formula, `=1+1`",
    at: 0.12,
    turn: (cells) => [withCell(cells, NOTES, "=1+1")],
  },
  {
    what: "a row that is there twice, letter for letter",
    at: 0.2,
    turn: (cells) => [cells, cells],
  },
  {
    what: "an id that is there twice with different lengths",
    at: 0.31,
    suits: (_, cells) => /^\d+\.\d$/.test(cells[at.host_length]!),
    turn: (cells) => [cells, withCell(cells, at.host_length, (Number(cells[at.host_length]) + 6).toFixed(1))],
  },
  {
    what: "a subtotal row in the middle, with a thousands comma in its length",
    at: 0.445,
    turn: (cells, _, running) => [
      cells,
      cells.map((_, place) =>
        place === at.lateral
          ? `SUBTOTAL ${running.district}`
          : place === at.host_length
            ? thousands(running.length, 1, ".")
            : "",
      ),
    ],
  },
  {
    what: "a length ten times too long, a decimal point lost",
    at: 0.52,
    suits: (_, cells) => Number(cells[at.host_length]) >= 60,
    turn: (cells) => [withCell(cells, at.host_length, thousands(Number(cells[at.host_length]) * 10, 0, "."))],
  },
  {
    what: "a row without an id",
    at: 0.63,
    turn: (cells) => [cells, withCell(cells, at.lateral, "<Null>")],
  },
  {
    what: "a row with nothing in it",
    at: 0.86,
    turn: (cells) => [cells, cells.map(() => "")],
  },
];

const on = placesOf(usInspectionHeadings);
const MATERIAL_COPY = usInspectionHeadings.findIndex(({ heading }) => heading === "MATL");
const OM_RATING = usInspectionHeadings.findIndex(({ heading }) => heading === "OM_RATING");
const SURVEY_REMARKS = usInspectionHeadings.findIndex(({ heading }) => heading === "REMARKS");

function dressInspection(cells: string[], { lateral, survey }: SurveyRow, random: Random): void {
  cells[on.inspected_on] = dateAsWritten(survey, random);
  cells[MATERIAL_COPY] = MATERIALS[lateral.material][0]!;
  cells[on.survey_complete] = survey.complete ? "Y" : "N";
  if (survey.stoppedBecause !== null) cells[on.stopped_because] = STOPS[survey.stoppedBecause];
  if (cells[on.connection_grade] === "" && random.chance(0.4)) cells[on.connection_grade] = "N/A";
  if (random.chance(0.02)) cells[on.surveyed_length] = "";
  if (random.chance(0.04))
    cells[SURVEY_REMARKS] = random.pick(["roots, fine, at joints", "low water", "sag at 20'"]);
}

/** Dates of one column in the forms of different years' exports. */
function dateAsWritten(survey: SurveyRow["survey"], random: Random): string {
  const { year, month, dayOfMonth } = dateOf(survey.on);
  const draw = random.next();
  if (draw < 0.62) return `${month}/${dayOfMonth}/${year}`;
  if (draw < 0.76) return `${padded(month, 2)}/${padded(dayOfMonth, 2)}/${year}`;
  if (draw < 0.9) return isoDate(survey.on);
  const time = `${padded(Math.floor(survey.minuteOfDay / 60), 2)}:${padded(survey.minuteOfDay % 60, 2)}:00+00`;
  return `${year}/${padded(month, 2)}/${padded(dayOfMonth, 2)} ${time}`;
}

const START_AT = usInspectionHeadings.findIndex(({ heading }) => heading === "START_AT");
const STRUCTURAL_RATING = usInspectionHeadings.findIndex(({ heading }) => heading === "ST_RATING");

const plantedInspections: readonly Planted<SurveyRow>[] = [
  {
    what: "a survey that stopped at a bend, and the rest of the lateral from the other end on the same day",
    at: 0.5,
    suits: ({ survey }, cells) => survey.stoppedBecause === "bend" && cells[on.surveyed_length] !== "",
    turn: (cells, { lateral, survey }) => {
      const rest = toShown(lateral.length - survey.surveyed, "length", "us") + 1;
      const changes: readonly (readonly [place: number, text: string])[] = [
        [0, `${cells[0]}B`],
        [on.direction, survey.fromMain ? "downstream" : "upstream"],
        [START_AT, survey.fromMain ? "cleanout" : "main"],
        [on.structural_grade, "1"],
        [on.structural_quick, "1100"],
        [STRUCTURAL_RATING, "1"],
        [on.om_grade, "0"],
        [on.om_quick, "0000"],
        [OM_RATING, "0"],
        [on.connection_grade, survey.fromMain ? "" : "1"],
        [on.surveyed_length, rest.toFixed(1)],
      ];
      return [cells, changes.reduce((row, [place, text]) => withCell(row, place, text), cells)];
    },
  },
  {
    what: "quick rating `3E00`: 30 to 34 places of grade 3 and no other; a spreadsheet reads it as the number 3",
    at: 0.04,
    suits: ({ survey }) => survey.omGrade === 3 && survey.complete,
    turn: (cells) => [withCell(withCell(cells, on.om_quick, "3E00"), OM_RATING, "96")],
  },
  {
    what: "quick rating `4B27`: 15 to 19 places of grade 4 and 7 of grade 2",
    at: 0.1,
    suits: ({ survey }) => survey.omGrade === 4 && survey.complete,
    turn: (cells) => [withCell(withCell(cells, on.om_quick, "4B27"), OM_RATING, "82")],
  },
  {
    what: "quick rating `3.00E+00`, which a spreadsheet made of 3E00",
    at: 0.16,
    suits: ({ survey }) => survey.omGrade === 3,
    turn: (cells) => [withCell(cells, on.om_quick, "3.00E+00")],
  },
  {
    what: "quick rating `0`, which a spreadsheet made of 0000",
    at: 0.25,
    suits: (_, cells) => cells[on.structural_quick] === "0000",
    turn: (cells) => [withCell(cells, on.structural_quick, "0")],
  },
  {
    what: "an inspection that is there twice, letter for letter",
    at: 0.3,
    turn: (cells) => [cells, cells],
  },
  {
    what: "an inspection of a lateral that the lateral file does not have",
    at: 0.38,
    turn: (cells) => [cells, withCell(withCell(cells, on.lateral, "99417"), 0, "I2024-999417")],
  },
  {
    what: "a date as a spreadsheet's day number",
    at: 0.46,
    // 25569 is 1970-01-01 in the 1900 date system.
    turn: (cells, { survey }) => [withCell(cells, on.inspected_on, String(survey.on + 25_569))],
  },
  {
    what: "a date that does not exist, 2/30/2024",
    at: 0.58,
    turn: (cells) => [withCell(cells, on.inspected_on, "2/30/2024")],
  },
  {
    what: "structural and operation grades left blank, which is not a grade of 0",
    at: 0.66,
    suits: ({ survey }) => !survey.complete,
    turn: (cells) => [
      [on.structural_grade, on.structural_quick, on.om_grade, on.om_quick].reduce(
        (changed, place) => withCell(changed, place, ""),
        cells,
      ),
    ],
  },
  {
    what: "an id that lost its leading zeros on the way through a spreadsheet",
    at: 0.79,
    turn: (cells) => [withCell(cells, on.lateral, String(Number(cells[on.lateral])))],
  },
];

/** Files as a US city's map department and its camera contractor would export them. */
export const usForm: CityForm = {
  file: { delimiter: ",", encoding: "utf-8", decimalMark: ".", dateOrder: "month first" },
  lineEnd: "\r\n",
  byteOrderMark: true,
  title: "Sewer laterals, City of Quennock Falls (invented data)",
  worstGrade: 5,
  laterals: {
    headings: usLateralHeadings,
    write: writeUsLateral,
    dress: dressLateral,
    planted: plantedLaterals,
  },
  inspections: {
    headings: usInspectionHeadings,
    write: writeUsInspection,
    dress: dressInspection,
    planted: plantedInspections,
  },
  observations: { headings: usObservationHeadings, write: writeUsObservations, kinds: usKinds },
};
