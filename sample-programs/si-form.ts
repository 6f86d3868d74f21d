import type {
  Building,
  HostMaterial,
  InspectionKey,
  LateralKey,
  Surface,
} from "../src/columns/lateral-columns.ts";
import { dateOf } from "../src/quantity/calendar.ts";
import { type CityForm, type Heading, placesOf, type SurveyRow } from "./city-form.ts";
import type { SampleCrossBore, SampleLateral } from "./city-model.ts";
import { decimal, padded, thousands } from "./csv-row.ts";
import { type Planted, withCell } from "./planting.ts";
import type { Random } from "./random.ts";
import type { StopReason } from "./survey-model.ts";

/** Headings in the words of the trade in German. */
const lateralHeadings: readonly Heading<LateralKey>[] = [
  { heading: "Lfd. Nr." },
  { heading: "Anschluss-Nr.", key: "lateral" },
  { heading: "Einzugsgebiet", key: "district" },
  { heading: "Straße", key: "location" },
  { heading: "DN", key: "host_diameter", unit: "mm" },
  { heading: "Länge [m]", key: "host_length", unit: "m" },
  { heading: "Werkstoff", key: "host_material" },
  { heading: "Baujahr", key: "install_year" },
  { heading: "Überdeckung Kanal [m]", key: "cover_main", unit: "m" },
  { heading: "Überdeckung Haus [m]", key: "cover_house", unit: "m" },
  { heading: "Grundwasser u. GOK [m]", key: "water_table_depth", unit: "m" },
  { heading: "Oberfläche", key: "surface" },
  { heading: "Haltung" },
  { heading: "DN Kanal", key: "main_diameter", unit: "mm" },
  { heading: "Revisionsöffnung", key: "cleanout" },
  { heading: "Querbohrung", key: "cross_bore" },
  { heading: "Nutzung", key: "building" },
  { heading: "Rückstau 5 Jahre", key: "backups" },
  { heading: "Bemerkung" },
  { heading: "Ostwert", key: "x" },
  { heading: "Nordwert", key: "y" },
];

const inspectionHeadings: readonly Heading<InspectionKey>[] = [
  { heading: "Untersuchung" },
  { heading: "Anschluss-Nr.", key: "lateral" },
  { heading: "Haltung" },
  { heading: "Datum", key: "inspected_on" },
  { heading: "Richtung", key: "direction" },
  { heading: "Straße" },
  { heading: "Werkstoff" },
  { heading: "DN" },
  { heading: "Klasse Standsicherheit", key: "structural_grade" },
  { heading: "Klasse Betrieb", key: "om_grade" },
  { heading: "Klasse Anbindung", key: "connection_grade" },
  { heading: "Untersuchte Länge [m]", key: "surveyed_length", unit: "m" },
  { heading: "Vollständig", key: "survey_complete" },
  { heading: "Abbruchgrund", key: "stopped_because" },
  { heading: "Ovalität [%]", key: "ovality", unit: "percent" },
  { heading: "Bemerkung" },
];

const MARK = ",";
const FIRST_NUMBER = 1001;
const siLateralId = (index: number): string => `A-${padded(FIRST_NUMBER + index, 5)}`;
const metresText = (m: number) => decimal(m, 2, MARK);

function writeLateral(lateral: SampleLateral): string[] {
  return [
    String(lateral.index + 1),
    siLateralId(lateral.index),
    lateral.district.name,
    lateral.address,
    decimal(lateral.diameter, 0, MARK),
    metresText(lateral.length),
    lateral.material,
    String(lateral.installYear),
    metresText(lateral.coverMain),
    metresText(lateral.coverHouse),
    metresText(lateral.waterTable),
    lateral.surface,
    `H${padded(lateral.mainNumber, 6)}`,
    decimal(lateral.mainDiameter, 0, MARK),
    lateral.cleanout ? "yes" : "no",
    lateral.crossBore ?? "",
    lateral.building,
    String(lateral.backups),
    "",
    decimal(lateral.x, 2, MARK),
    decimal(lateral.y, 2, MARK),
  ];
}

/** On this city's scale 0 is the worst class and 5 has no defect. */
const classOf = (grade: number): string => String(5 - grade);

function writeInspection({ lateral, survey, ordinal }: SurveyRow): string[] {
  const { year, month, dayOfMonth } = dateOf(survey.on);
  return [
    `U${year}-${padded(ordinal, 5)}`,
    siLateralId(lateral.index),
    `H${padded(lateral.mainNumber, 6)}`,
    `${padded(dayOfMonth, 2)}.${padded(month, 2)}.${year}`,
    survey.fromMain ? "gegen Fließrichtung" : "in Fließrichtung",
    lateral.address.slice(0, lateral.address.lastIndexOf(" ")),
    lateral.material,
    decimal(lateral.diameter, 0, MARK),
    classOf(survey.structuralGrade),
    classOf(survey.omGrade),
    survey.connectionGrade === null ? "" : classOf(survey.connectionGrade),
    metresText(survey.surveyed),
    survey.complete ? "yes" : "no",
    survey.stoppedBecause ?? "",
    survey.ovality === null ? "" : decimal(survey.ovality * 100, 1, MARK),
    "",
  ];
}

const MATERIALS: Readonly<Record<HostMaterial, readonly string[]>> = {
  clay: ["Steinzeug", "Steinzeug", "Stz"],
  concrete: ["Beton"],
  "cast iron": ["Grauguss", "GG"],
  "ductile iron": ["duktiler Guss"],
  steel: ["Stahl"],
  PVC: ["PVC-U", "PVC"],
  ABS: ["ABS"],
  polyethylene: ["PE-HD"],
  "bituminous fibre": ["Bitumenfaser"],
  "asbestos cement": ["Asbestzement", "AZ"],
};
const SURFACES: Readonly<Record<Surface, readonly string[]>> = {
  street: ["Fahrbahn"],
  alley: ["Gasse"],
  driveway: ["Einfahrt"],
  sidewalk: ["Gehweg"],
  yard: ["Garten", "Grünfläche"],
  railway: ["Gleis"],
};
const BUILDINGS: Readonly<Record<Building, readonly string[]>> = {
  house: ["Wohnhaus"],
  apartments: ["Mehrfamilienhaus", "MFH"],
  business: ["Gewerbe"],
  restaurant: ["Gaststätte"],
  school: ["Schule"],
  hospital: ["Krankenhaus"],
  industry: ["Industrie"],
};
const CROSS_BORES: Readonly<Record<SampleCrossBore, string>> = {
  cleared: "geprüft, frei",
  "not cleared": "nicht geprüft",
  found: "Fremdleitung",
};
const STOPS: Readonly<Record<StopReason, string>> = {
  collapse: "Einsturz",
  "root ball": "Wurzelballen",
  "water level": "Wasserstand",
  bend: "Bogen",
  camera: "Kamera ausgefallen",
};

/** The city's words that the program's own list does not have, by our word; they go into program.json. */
export const siWords = {
  host_material: { "ductile iron": ["duktiler Guss"] },
  building: { apartments: ["MFH"] },
  cross_bore: { cleared: ["geprüft, frei"], "not cleared": ["nicht geprüft"], found: ["Fremdleitung"] },
} as const;

const at = placesOf(lateralHeadings);
const on = placesOf(inspectionHeadings);
const REMARK = lateralHeadings.findIndex(({ heading }) => heading === "Bemerkung");
const MISSING = ["", "", "-", "k.A."] as const;
const REMARKS = [
  "Anschluss bei 2 Uhr",
  "Tiefe geschätzt; bitte nachmessen",
  "siehe Plan 14 – Blatt 3",
] as const;

function dressLateral(cells: string[], lateral: SampleLateral, random: Random): void {
  if (random.chance(0.1)) cells[at.district] = random.pick(lateral.district.aliases);
  cells[at.host_material] = random.pick(MATERIALS[lateral.material]);
  cells[at.surface] = random.pick(SURFACES[lateral.surface]);
  cells[at.building] = random.pick(BUILDINGS[lateral.building]);
  cells[at.cleanout] = lateral.cleanout ? "ja" : "nein";
  cells[at.cross_bore] =
    lateral.crossBore === null ? random.pick(["", "unbekannt"]) : CROSS_BORES[lateral.crossBore];
  if (random.chance(0.1)) cells[at.host_diameter] = `${cells[at.host_diameter]} mm`;
  if (random.chance(0.04)) cells[at.install_year] = random.pick(["0", ""]);
  if (random.chance(0.06)) {
    cells[at.x] = thousands(lateral.x, 2, MARK);
    cells[at.y] = thousands(lateral.y, 2, MARK);
  }
  if (random.chance(0.06)) cells[REMARK] = random.pick(REMARKS);
  for (const [key, part] of MISSING_PARTS) if (random.chance(part)) cells[at[key]] = random.pick(MISSING);
}

/** How often a cell of a column says nothing. Invented. */
const MISSING_PARTS = [
  ["host_material", 0.015],
  ["cover_main", 0.03],
  ["cover_house", 0.05],
  ["water_table_depth", 0.06],
  ["surface", 0.02],
  ["main_diameter", 0.02],
  ["cleanout", 0.05],
  ["building", 0.02],
  ["backups", 0.06],
] as const;

const plantedLaterals: readonly Planted<SampleLateral>[] = [
  {
    what: "a row that is there twice, letter for letter",
    at: 0.25,
    turn: (cells) => [cells, cells],
  },
  {
    what: "a subtotal row in the middle, with a decimal comma",
    at: 0.5,
    turn: (cells, _, running) => [
      cells,
      cells.map((_cell, place) =>
        place === at.lateral
          ? `Zwischensumme ${running.district}`
          : place === at.host_length
            ? thousands(running.length, 2, MARK)
            : "",
      ),
    ],
  },
];

function dressInspection(cells: string[], { lateral, survey }: SurveyRow, random: Random): void {
  if (random.chance(0.15)) {
    const { year, month, dayOfMonth } = dateOf(survey.on);
    cells[on.inspected_on] = `${dayOfMonth}.${month}.${year}`;
  }
  cells[on.survey_complete] = survey.complete ? "ja" : "nein";
  cells[MATERIAL_COPY] = MATERIALS[lateral.material][0]!;
  if (survey.stoppedBecause !== null) cells[on.stopped_because] = STOPS[survey.stoppedBecause];
}
const MATERIAL_COPY = inspectionHeadings.findIndex(({ heading }) => heading === "Werkstoff");

const plantedInspections: readonly Planted<SurveyRow>[] = [
  {
    what: "an inspection of a lateral that the lateral file does not have",
    at: 0.4,
    turn: (cells) => [cells, withCell(withCell(cells, on.lateral, "A-99417"), 0, "U2024-99417")],
  },
  {
    what: "classes left blank, which is not a class of 0",
    at: 0.6,
    suits: ({ survey }) => !survey.complete,
    turn: (cells) => [withCell(withCell(cells, on.structural_grade, ""), on.om_grade, "")],
  },
];

/** Files as a Central European town would export them: semicolons, decimal commas, dots in dates, Windows-1252. */
export const siForm: CityForm = {
  file: { delimiter: ";", encoding: "windows-1252", decimalMark: ",", dateOrder: "day first" },
  lineEnd: "\n",
  byteOrderMark: false,
  title: null,
  worstGrade: 0,
  laterals: { headings: lateralHeadings, write: writeLateral, dress: dressLateral, planted: plantedLaterals },
  inspections: {
    headings: inspectionHeadings,
    write: writeInspection,
    dress: dressInspection,
    planted: plantedInspections,
  },
  observations: null,
};
