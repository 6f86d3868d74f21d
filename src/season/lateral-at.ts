import type { TreatmentKind, WorkStatus } from "../columns/plan-columns.ts";
import { type HostSeen, nothingSeen, readHostSeen } from "../plan/host-seen.ts";
import { type Inspection, type Lateral, notTracked, wholeSurvey } from "../plan/lateral.ts";
import type { Cents, Day, Metres } from "../quantity/si.ts";
import { openInspections } from "./inspections-at.ts";
import { cellsOf, type Deciding, type LateralCells, over } from "./lateral-cells.ts";
import type { ProgramTables } from "./program-tables.ts";

/**
 * A reader of laterals for a loop over the rows of a program. Cells are read when they are asked for, so its records are not to be copied or
 * taken apart: see {@link lateralAt}.
 */
export function openLaterals(tables: ProgramTables): (row: number) => Lateral {
  const cells = cellsOf(tables.laterals);
  const inspections = openInspections(tables);
  const isSeen = tables.observations !== undefined;
  return (row) => new CityLateral(cells, row, decidedAt(tables, cells, row), inspections(row), isSeen);
}

/**
 * The record of one lateral from the tables, all of it read: the city's values, a person's decisions over them, its surveys. To be copied and
 * taken apart. Field by field: put together by their names such records took 15 µs each, and made slow whatever read them.
 */
export function lateralAt(tables: ProgramTables, row: number): Lateral {
  const late = openLaterals(tables)(row);
  return {
    id: late.id,
    district: late.district,
    location: late.location,
    hostDiameter: late.hostDiameter,
    hostLength: late.hostLength,
    hostMaterial: late.hostMaterial,
    installYear: late.installYear,
    coverAtMain: late.coverAtMain,
    coverAtHouse: late.coverAtHouse,
    waterTableDepth: late.waterTableDepth,
    surface: late.surface,
    mainDiameter: late.mainDiameter,
    cleanout: late.cleanout,
    crossBore: late.crossBore,
    building: late.building,
    backups: late.backups,
    bends: late.bends,
    sharpestBend: late.sharpestBend,
    sizeChange: late.sizeChange,
    branches: late.branches,
    slope: late.slope,
    fixtureUnits: late.fixtureUnits,
    effluent: late.effluent,
    effluentTemperature: late.effluentTemperature,
    mainLining: late.mainLining,
    access: late.access,
    lowerLength: late.lowerLength,
    upperLength: late.upperLength,
    lowerOwner: late.lowerOwner,
    upperOwner: late.upperOwner,
    cityShare: late.cityShare,
    propertyLineCleanout: late.propertyLineCleanout,
    permissionSigned: late.permissionSigned,
    permissionExpires: late.permissionExpires,
    inspections: late.inspections.map(wholeSurvey),
    decided: late.decided,
    tracked: late.tracked,
  };
}

/**
 * What a plan asks again and again is read once; the rest when it is asked, most of it once or never, and the texts of nearly no lateral. Read
 * whole for each lateral, or read anew each time, a plan of a million took 0.3 s more.
 */
class CityLateral implements Lateral {
  readonly hostDiameter: Lateral["hostDiameter"];
  readonly hostLength: Lateral["hostLength"];
  readonly hostMaterial: Lateral["hostMaterial"];
  readonly installYear: Lateral["installYear"];
  readonly surface: Lateral["surface"];
  readonly backups: Lateral["backups"];
  readonly inspections: readonly Inspection[];
  readonly decided: Lateral["decided"];
  readonly tracked: Lateral["tracked"];
  readonly #cells: LateralCells;
  readonly #row: number;
  readonly #by: Deciding;
  readonly #seen: HostSeen;

  constructor(
    cells: LateralCells,
    row: number,
    by: Deciding,
    inspections: readonly Inspection[],
    isSeen: boolean,
  ) {
    this.hostDiameter = cells.hostDiameter.at(row, by);
    this.hostLength = cells.hostLength.at(row, by);
    this.hostMaterial = cells.hostMaterial.at(row, by);
    this.installYear = cells.installYear.at(row, by);
    this.surface = cells.surface.at(row, by);
    this.backups = cells.backups.at(row, by);
    this.inspections = inspections;
    this.decided = by === undefined ? nothingDecided : decidedBy(by);
    this.tracked = by === undefined ? notTracked : trackedBy(by);
    this.#cells = cells;
    this.#row = row;
    this.#by = by;
    this.#seen = isSeen ? readHostSeen(inspections, this.hostDiameter?.value ?? null) : nothingSeen;
  }

  get id(): string {
    return this.#cells.id(this.#row);
  }

  get district(): string {
    return this.#cells.district(this.#row);
  }

  get location(): string {
    return this.#cells.location(this.#row);
  }

  get coverAtMain(): Lateral["coverAtMain"] {
    return this.#cells.coverAtMain.at(this.#row, this.#by);
  }

  get coverAtHouse(): Lateral["coverAtHouse"] {
    return this.#cells.coverAtHouse.at(this.#row, this.#by);
  }

  get waterTableDepth(): Lateral["waterTableDepth"] {
    return this.#cells.waterTableDepth.at(this.#row, this.#by);
  }

  get mainDiameter(): Lateral["mainDiameter"] {
    return this.#cells.mainDiameter.at(this.#row, this.#by);
  }

  get cleanout(): Lateral["cleanout"] {
    return this.#cells.cleanout.at(this.#row, this.#by);
  }

  get crossBore(): Lateral["crossBore"] {
    return this.#cells.crossBore.at(this.#row, this.#by);
  }

  get building(): Lateral["building"] {
    return this.#cells.building.at(this.#row, this.#by);
  }

  get bends(): Lateral["bends"] {
    return this.#cells.bends.at(this.#row, this.#by) ?? this.#seen.bends;
  }

  get sharpestBend(): Lateral["sharpestBend"] {
    return this.#cells.sharpestBend.at(this.#row, this.#by) ?? this.#seen.sharpestBend;
  }

  get sizeChange(): Lateral["sizeChange"] {
    return this.#cells.sizeChange.at(this.#row, this.#by) ?? this.#seen.sizeChange;
  }

  get branches(): Lateral["branches"] {
    return this.#cells.branches.at(this.#row, this.#by);
  }

  get slope(): Lateral["slope"] {
    return this.#cells.slope.at(this.#row, this.#by);
  }

  get fixtureUnits(): Lateral["fixtureUnits"] {
    return this.#cells.fixtureUnits.at(this.#row, this.#by);
  }

  get effluent(): Lateral["effluent"] {
    return this.#cells.effluent.at(this.#row, this.#by);
  }

  get effluentTemperature(): Lateral["effluentTemperature"] {
    return this.#cells.effluentTemperature.at(this.#row, this.#by);
  }

  get mainLining(): Lateral["mainLining"] {
    return this.#cells.mainLining.at(this.#row, this.#by);
  }

  get access(): Lateral["access"] {
    return this.#cells.access.at(this.#row, this.#by);
  }

  get lowerLength(): Lateral["lowerLength"] {
    return this.#cells.lowerLength.at(this.#row, this.#by);
  }

  get upperLength(): Lateral["upperLength"] {
    return this.#cells.upperLength.at(this.#row, this.#by);
  }

  get lowerOwner(): Lateral["lowerOwner"] {
    return this.#cells.lowerOwner.at(this.#row, this.#by);
  }

  get upperOwner(): Lateral["upperOwner"] {
    return this.#cells.upperOwner.at(this.#row, this.#by);
  }

  get cityShare(): Lateral["cityShare"] {
    return this.#cells.cityShare.at(this.#row, this.#by);
  }

  get propertyLineCleanout(): Lateral["propertyLineCleanout"] {
    return this.#cells.propertyLineCleanout.at(this.#row, this.#by);
  }

  get permissionSigned(): Lateral["permissionSigned"] {
    return this.#cells.permissionSigned.at(this.#row, this.#by);
  }

  get permissionExpires(): Lateral["permissionExpires"] {
    return this.#cells.permissionExpires.at(this.#row, this.#by);
  }
}

const decidedAt = ({ decisions }: ProgramTables, cells: LateralCells, row: number): Deciding =>
  decisions.size === 0 ? undefined : decisions.get(cells.id(row));

/** Whether a person decided anything of a lateral. */
export const isDecided = (tables: ProgramTables, row: number): boolean =>
  decidedAt(tables, cellsOf(tables.laterals), row) !== undefined;

const nothingDecided: Lateral["decided"] = { structuralGrade: null, omGrade: null, treatment: null };

const decidedBy = (by: NonNullable<Deciding>): Lateral["decided"] => ({
  structuralGrade: over<number>(by, "structural_grade"),
  omGrade: over<number>(by, "om_grade"),
  treatment: over<TreatmentKind>(by, "treatment"),
});

const trackedBy = (by: NonNullable<Deciding>): Lateral["tracked"] => ({
  status: over<WorkStatus>(by, "status"),
  statusOn: over<Day>(by, "status_on"),
  installedLength: over<Metres>(by, "installed_length"),
  installedCost: over<Cents>(by, "installed_cost"),
});
