import type { InspectionKey, LateralKey } from "../src/columns/lateral-columns.ts";
import { pipeRating, writeQuickRating } from "../src/engineering/quick-rating.ts";
import { dateOf, isoDate } from "../src/quantity/calendar.ts";
import { toShown } from "../src/quantity/measure.ts";
import type { Heading, SurveyRow } from "./city-form.ts";
import type { SampleLateral } from "./city-model.ts";
import { decimal, padded } from "./csv-row.ts";
import { usOwnershipHeadings, writeUsOwnership } from "./us-ownership.ts";

/** Headings as a map department's export would have them. 32 columns, six of which no plan needs. */
export const usLateralHeadings: readonly Heading<LateralKey>[] = [
  { heading: "OBJECTID" },
  { heading: "FACILITYID", key: "lateral" },
  { heading: "SERVAREA", key: "district" },
  { heading: "BASINID" },
  { heading: "ADDRESS", key: "location" },
  { heading: "DIAM", key: "host_diameter", unit: "in" },
  { heading: "LENGTH", key: "host_length", unit: "ft" },
  { heading: "MATERIAL", key: "host_material" },
  { heading: "INST_YEAR", key: "install_year" },
  { heading: "COVER_MAIN", key: "cover_main", unit: "ft" },
  { heading: "COVER_BLDG", key: "cover_house", unit: "ft" },
  { heading: "GW_DEPTH", key: "water_table_depth", unit: "ft" },
  { heading: "SURFACE", key: "surface" },
  { heading: "MAIN_ID" },
  { heading: "MAIN_DIAM", key: "main_diameter", unit: "in" },
  { heading: "CLEANOUT", key: "cleanout" },
  { heading: "XBORE", key: "cross_bore" },
  { heading: "BLDG_USE", key: "building" },
  { heading: "BACKUPS_5Y", key: "backups" },
  { heading: "OWNEDBY" },
  { heading: "NOTES" },
  { heading: "X_COORD", key: "x" },
  { heading: "Y_COORD", key: "y" },
  { heading: "LASTEDIT" },
  ...usOwnershipHeadings,
];

export const usInspectionHeadings: readonly Heading<InspectionKey>[] = [
  { heading: "INSP_ID" },
  { heading: "LATERAL_REF", key: "lateral" },
  { heading: "MAIN_REF" },
  { heading: "INSP_DATE", key: "inspected_on" },
  { heading: "INSP_TIME" },
  { heading: "DIRECTION", key: "direction" },
  { heading: "START_AT" },
  { heading: "STREET" },
  { heading: "MATL" },
  { heading: "SIZE" },
  { heading: "ST_GRADE", key: "structural_grade" },
  { heading: "ST_QUICK", key: "structural_quick" },
  { heading: "ST_RATING" },
  { heading: "OM_GRADE", key: "om_grade" },
  { heading: "OM_QUICK", key: "om_quick" },
  { heading: "OM_RATING" },
  { heading: "CONN_GRADE", key: "connection_grade" },
  { heading: "LEN_SURV", key: "surveyed_length", unit: "ft" },
  { heading: "COMPLETE", key: "survey_complete" },
  { heading: "STOP_REASON", key: "stopped_because" },
  { heading: "OVALITY_PCT", key: "ovality", unit: "percent" },
  { heading: "WEATHER" },
  { heading: "MEDIA" },
  { heading: "REMARKS" },
];

const FIRST_NUMBER = 101;

/** `00417`: five digits at the least, more in a city that needs them. */
export const usLateralId = (index: number): string => padded(FIRST_NUMBER + index, 5);

const feet = (m: number) => decimal(toShown(m, "length", "us"), 1, ".");
const inches = (mm: number) => decimal(toShown(mm, "diameter", "us"), 0, ".");

export function writeUsLateral(lateral: SampleLateral): string[] {
  return [
    String(lateral.index + 1),
    usLateralId(lateral.index),
    lateral.district.name,
    lateral.district.basin,
    lateral.address,
    inches(lateral.diameter),
    feet(lateral.length),
    lateral.material,
    String(lateral.installYear),
    feet(lateral.coverMain),
    feet(lateral.coverHouse),
    feet(lateral.waterTable),
    lateral.surface,
    `M-${padded(lateral.mainNumber, 6)}`,
    inches(lateral.mainDiameter),
    lateral.cleanout ? "yes" : "no",
    lateral.crossBore ?? "",
    lateral.building,
    String(lateral.backups),
    lateral.index % 7 === 0 ? "2" : "1",
    "",
    decimal(toShown(lateral.x, "length", "us"), 2, "."),
    decimal(toShown(lateral.y, "length", "us"), 2, "."),
    `2026-02-${padded(1 + (lateral.index % 27), 2)}`,
    ...writeUsOwnership(lateral.index, feet(lateral.length)),
  ];
}

const WEATHER = ["dry", "dry", "light rain", "dry", "snow melt"] as const;

export function writeUsInspection({ lateral, survey, ordinal }: SurveyRow): string[] {
  const { year } = dateOf(survey.on);
  const rating = (counts: SurveyRow["survey"]["structural"]) => String(pipeRating(counts));
  return [
    `I${year}-${padded(ordinal, 6)}`,
    usLateralId(lateral.index),
    `M-${padded(lateral.mainNumber, 6)}`,
    isoDate(survey.on),
    `${padded(Math.floor(survey.minuteOfDay / 60), 2)}:${padded(survey.minuteOfDay % 60, 2)}`,
    survey.fromMain ? "upstream" : "downstream",
    survey.fromMain ? "main" : "cleanout",
    lateral.address.slice(lateral.address.indexOf(" ") + 1),
    lateral.material,
    inches(lateral.diameter),
    String(survey.structuralGrade),
    writeQuickRating(survey.structural),
    rating(survey.structural),
    String(survey.omGrade),
    writeQuickRating(survey.om),
    rating(survey.om),
    survey.connectionGrade === null ? "" : String(survey.connectionGrade),
    feet(survey.surveyed),
    survey.complete ? "yes" : "no",
    survey.stoppedBecause ?? "",
    survey.ovality === null ? "" : decimal(survey.ovality * 100, 1, "."),
    WEATHER[ordinal % WEATHER.length]!,
    `${year}/${usLateralId(lateral.index)}.mp4`,
    "",
  ];
}
