import type {
  AccessWay,
  Building,
  CrossBoreState,
  EffluentKind,
  HostMaterial,
  MainLining,
  Owner,
  Surface,
  SurveyStart,
} from "../columns/lateral-columns.ts";
import type { TreatmentKind, WorkStatus } from "../columns/plan-columns.ts";
import type { Celsius, Cents, Day, Fraction, Metres, Millimetres } from "../quantity/si.ts";
import type { ObservationMode } from "../reference/observation-kinds.ts";
import type { Stated } from "./stated.ts";

/** A value of the city's file or a person's decision; null when neither says anything. */
export type Given<T> = Stated<T> | null;

/** One thing seen in a survey. Distances are from where the survey started. */
export interface Observation {
  readonly from: Metres | null;
  /** Where a continuous observation ends; null for one at a point. */
  readonly to: Metres | null;
  /** Our word, or the city's where nobody has said what it means; "" when the file does not say. */
  readonly kind: string;
  readonly mode: ObservationMode | "unknown";
  readonly grade: number | null;
  readonly clock: string;
  /** Of a bend, degrees. */
  readonly turn: number | null;
  /** Of a size change: inside diameter beyond it. */
  readonly sizeAfter: Millimetres | null;
  readonly note: string;
}

/** One survey of a lateral by camera. Grades run from 0, no defect, to 5, worst; null is not graded. */
export interface Inspection {
  readonly on: Day;
  readonly structuralGrade: number | null;
  readonly omGrade: number | null;
  readonly connectionGrade: number | null;
  readonly structuralQuick: string;
  readonly omQuick: string;
  readonly surveyedLength: Metres | null;
  readonly complete: boolean | null;
  readonly stoppedBecause: string;
  readonly ovality: Fraction | null;
  /** The end the camera started from. */
  readonly direction: SurveyStart | null;
  /** Null when the program has no observation of this survey, which is not the same as none seen. */
  readonly observations: readonly Observation[] | null;
}

/** All that a survey says, value by value: a record that is read late has none of its own to be copied or written. */
export const wholeSurvey = (late: Inspection): Inspection => ({
  on: late.on,
  structuralGrade: late.structuralGrade,
  omGrade: late.omGrade,
  connectionGrade: late.connectionGrade,
  surveyedLength: late.surveyedLength,
  complete: late.complete,
  ovality: late.ovality,
  observations: late.observations,
  structuralQuick: late.structuralQuick,
  omQuick: late.omQuick,
  stoppedBecause: late.stoppedBecause,
  direction: late.direction,
});

/** What the city records of the work itself; decided, never worked out. */
export interface Tracked {
  readonly status: Given<WorkStatus>;
  /** Day the status was reached, or its check is due. */
  readonly statusOn: Given<Day>;
  readonly installedLength: Given<Metres>;
  readonly installedCost: Given<Cents>;
}

export const notTracked: Tracked = {
  status: null,
  statusOn: null,
  installedLength: null,
  installedCost: null,
};

/** One lateral as the city gives it, with a person's decisions in place. */
export interface Lateral {
  readonly id: string;
  readonly district: string;
  readonly location: string;
  readonly hostDiameter: Given<Millimetres>;
  readonly hostLength: Given<Metres>;
  readonly hostMaterial: Given<HostMaterial>;
  readonly installYear: Given<number>;
  readonly coverAtMain: Given<Metres>;
  readonly coverAtHouse: Given<Metres>;
  readonly waterTableDepth: Given<Metres>;
  readonly surface: Given<Surface>;
  readonly mainDiameter: Given<Millimetres>;
  readonly cleanout: Given<boolean>;
  readonly crossBore: Given<CrossBoreState>;
  readonly building: Given<Building>;
  readonly backups: Given<number>;
  readonly bends: Given<number>;
  /** Degrees. */
  readonly sharpestBend: Given<number>;
  /** (largest − smallest) ÷ smallest inside diameter along the host. */
  readonly sizeChange: Given<Fraction>;
  /** Other pipes that join it between its ends. */
  readonly branches: Given<number>;
  /** Fall over length. */
  readonly slope: Given<Fraction>;
  readonly fixtureUnits: Given<number>;
  readonly effluent: Given<EffluentKind>;
  readonly effluentTemperature: Given<Celsius>;
  readonly mainLining: Given<MainLining>;
  readonly access: Given<AccessWay>;
  /** From the main to the property line, and from there to the building. */
  readonly lowerLength: Given<Metres>;
  readonly upperLength: Given<Metres>;
  readonly lowerOwner: Given<Owner>;
  readonly upperOwner: Given<Owner>;
  /** What the city pays of the work on parts it does not own. */
  readonly cityShare: Given<Fraction>;
  readonly propertyLineCleanout: Given<boolean>;
  /** Of the owner of the private part. */
  readonly permissionSigned: Given<Day>;
  readonly permissionExpires: Given<Day>;
  /** Oldest first. */
  readonly inspections: readonly Inspection[];
  /** Decisions about what the plan works out itself. */
  readonly decided: {
    readonly structuralGrade: Given<number>;
    readonly omGrade: Given<number>;
    readonly treatment: Given<TreatmentKind>;
  };
  readonly tracked: Tracked;
}
