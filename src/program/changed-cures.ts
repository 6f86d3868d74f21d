import { type Cure, cureSchema, houseCures } from "../reference/cure-methods.ts";
import { changedSource, checkedTable } from "./changed-table.ts";
import { type Fault, faultAt } from "./settings-faults.ts";
import type { Settings } from "./settings-schema.ts";
import type { WrittenCureStep } from "./work-schema.ts";
import { typedValue } from "./written-values.ts";

/** What each way to cure does in this program: the house table, changed temperatures, or a supplier's schedule. */
export function layCures(settings: Settings, faults: Fault[]): readonly Cure[] | null {
  const { cure_changes: changes, cure_schedules: schedules } = settings.criteria ?? {};
  const laid = houseCures.map((cure): Cure | null => {
    const changed = changedCure(cure, changes?.[cure.key], settings, faults);
    const schedule = schedules?.[cure.key];
    if (changed === null || schedule === undefined) return changed;
    const at = ["criteria", "cure_schedules", cure.key];
    const table = {
      key: cure.key,
      label: `${cure.label}, the supplier's schedule`,
      kind: "stated",
      startTemperature: typedValue(schedule.start, "temperature"),
      steps: schedule.steps.map(statedStep),
      release: changed.kind === "heated" ? changed.release.value : null,
      source: { document: "program.json", at: at.join("."), note: schedule.source },
    };
    return checkedTable(cureSchema, table, settings, at, {}, faults);
  });
  return laid.every((cure) => cure !== null) ? laid : null;
}

function changedCure(
  cure: Cure,
  changes: NonNullable<NonNullable<Settings["criteria"]>["cure_changes"]>[Cure["key"]],
  settings: Settings,
  faults: Fault[],
): Cure | null {
  if (changes === undefined) return cure;
  const at = ["criteria", "cure_changes", cure.key];
  const { start_temperature: start, release_temperature: release } = changes;
  const changed = (key: string, written: string, source: Parameters<typeof changedSource>[1]) => ({
    value: typedValue(written, "temperature"),
    source: changedSource([...at, key].join("."), source, `Changes ${key}.`),
  });
  switch (cure.kind) {
    case "ambient":
      if (release !== undefined) {
        faults.push(
          faultAt(
            settings,
            [...at, "release_temperature"],
            "no release temperature: nothing is heated\nTake it out.",
          ),
        );
        return null;
      }
      return start === undefined
        ? cure
        : checkedTable(
            cureSchema,
            { ...cure, pipeTemperature: changed("start_temperature", start, cure.pipeTemperature.source) },
            settings,
            at,
            {},
            faults,
          );
    case "heated":
      return checkedTable(
        cureSchema,
        {
          ...cure,
          startTemperature:
            start === undefined
              ? cure.startTemperature
              : changed("start_temperature", start, cure.startTemperature.source),
          release:
            release === undefined
              ? cure.release
              : changed("release_temperature", release, cure.release.source),
        },
        settings,
        at,
        {},
        faults,
      );
    case "light":
    case "stated":
      faults.push(
        faultAt(
          settings,
          at,
          'no temperatures: lamps go by travel speed\nGive the supplier\'s times under "cure_schedules".',
        ),
      );
      return null;
    default:
      return cure satisfies never;
  }
}

function statedStep(step: WrittenCureStep): Record<string, number> {
  if (step.hold_minutes !== undefined) return { holdMinutes: step.hold_minutes };
  const pace =
    step.minutes !== undefined
      ? { minutes: step.minutes }
      : { degreesPerHour: step.celsius_per_hour ?? (required(step.fahrenheit_per_hour, "a pace") * 5) / 9 };
  return step.heat_to !== undefined
    ? { heatTo: typedValue(step.heat_to, "temperature"), ...pace }
    : { coolTo: typedValue(required(step.cool_to, "a temperature"), "temperature"), ...pace };
}

function required<T>(value: T | undefined, what: string): T {
  if (value === undefined) throw new RangeError(`changed-cures: a step without ${what}`);
  return value;
}
