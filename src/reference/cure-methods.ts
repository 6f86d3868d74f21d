import * as z from "zod";
import data from "../../shared/cure-methods.json" with { type: "json" };
import { cureMethods } from "./liner-systems.ts";
import { type Source, sourceSchema } from "./source.ts";

const celsius = z.number().min(-20).max(200);
const positive = z.number().positive();
const minutes = z.number().min(0).max(10_000);
const sourced = <Value extends z.ZodType>(value: Value) => z.strictObject({ value, source: sourceSchema });
const rising = <Row extends z.ZodType<{ readonly upTo: number }>>(row: Row) =>
  z
    .array(row)
    .min(1)
    .refine((rows) => rows.every((r, i) => i === 0 || r.upTo > rows[i - 1]!.upTo), { message: "walls rise" });

/** A hold by wall: the first row whose `upTo` the wall does not pass; thicker than the last has no schedule. */
const byWall = rising(z.strictObject({ upTo: positive, minutes }));

const heat = z
  .strictObject({ heatTo: celsius, degreesPerHour: positive.optional(), minutes: minutes.optional() })
  .refine((step) => (step.degreesPerHour === undefined) !== (step.minutes === undefined), {
    message: "a rise has a rate or a time, one of the two",
  });
const cool = z
  .strictObject({ coolTo: celsius, degreesPerHour: positive.optional(), minutes: minutes.optional() })
  .refine((step) => (step.degreesPerHour === undefined) !== (step.minutes === undefined), {
    message: "a cool-down has a rate or a time, one of the two",
  });
const hold = z.strictObject({ hold: byWall });

const ambientSchema = z.strictObject({
  key: z.literal("ambient"),
  label: z.string().min(1),
  kind: z.literal("ambient"),
  /** In the pipe while it cures. */
  pipeTemperature: sourced(celsius),
  /** By resin. */
  holds: z.record(
    z.string(),
    z.strictObject({
      minutes,
      atCelsius: celsius,
      factorPerTenDegrees: z.number().min(1.01).max(5),
      source: sourceSchema,
    }),
  ),
  release: sourced(z.null()),
});

const heatedSchema = z.strictObject({
  key: z.enum(["hot water", "steam"]),
  label: z.string().min(1),
  kind: z.literal("heated"),
  startTemperature: sourced(celsius),
  schedules: z
    .array(
      z.strictObject({
        resins: z.array(z.string()).min(1),
        steps: z.array(z.union([heat, hold])).min(1),
        source: sourceSchema,
      }),
    )
    .min(1),
  cooling: z.strictObject({ degreesPerHour: positive, source: sourceSchema }),
  release: sourced(celsius),
});

const lightSchema = z.strictObject({
  key: z.literal("light"),
  label: z.string().min(1),
  kind: z.literal("light"),
  resins: z.array(z.string()).min(1),
  /** By camera, before the lights go on. */
  look: z.strictObject({ minutes, source: sourceSchema }),
  travel: z.strictObject({
    steps: rising(z.strictObject({ upTo: positive, metresPerMinute: positive })),
    source: sourceSchema,
  }),
  cooling: z.strictObject({ minutes, source: sourceSchema }),
});

/** A resin supplier's schedule as the program's settings give it, for one resin and the walls it is used with. */
const statedSchema = z.strictObject({
  key: z.enum(cureMethods),
  label: z.string().min(1),
  kind: z.literal("stated"),
  startTemperature: celsius,
  steps: z.array(z.union([heat, cool, z.strictObject({ holdMinutes: minutes })])).min(1),
  /** Cool enough to let the pressure go; null where nothing is heated. */
  release: celsius.nullable(),
  source: sourceSchema,
});

export const cureSchema = z
  .discriminatedUnion("kind", [ambientSchema, heatedSchema, lightSchema, statedSchema])
  .superRefine((method, context) => {
    const message = temperatureFault(method);
    if (message !== null)
      context.addIssue({
        code: "custom",
        path: [method.kind === "stated" ? "steps" : "startTemperature"],
        message,
        input: method,
      });
  });

export type Cure = z.infer<typeof cureSchema>;
export type HeatedCure = z.infer<typeof heatedSchema>;
export type StatedCure = z.infer<typeof statedSchema>;

/** A schedule that heats downward or cools upward is no schedule. */
function temperatureFault(
  method: z.infer<typeof ambientSchema> | HeatedCure | z.infer<typeof lightSchema> | StatedCure,
): string | null {
  const order = "temperatures in order: each rise ends above where it starts, each cool-down below";
  switch (method.kind) {
    case "ambient":
    case "light":
      return null;
    case "heated":
      return method.schedules.every(({ steps }) => {
        let now = method.startTemperature.value;
        for (const step of steps) {
          if (!("heatTo" in step)) continue;
          if (step.heatTo < now) return false;
          now = step.heatTo;
        }
        return method.release.value <= now;
      })
        ? null
        : order;
    case "stated": {
      let now = method.startTemperature;
      for (const step of method.steps) {
        if ("heatTo" in step && step.heatTo < now) return order;
        if ("coolTo" in step && step.coolTo > now) return order;
        now = "heatTo" in step ? step.heatTo : "coolTo" in step ? step.coolTo : now;
      }
      return method.release === null || now <= method.release * (1 + 1e-9)
        ? null
        : `a last step that cools to ${method.release.toFixed(1)} °C or less, before the pressure is let go`;
    }
    default:
      return method satisfies never;
  }
}

/** A time that is often quoted, shown beside the schedule and never used in it. */
const comparisonSchema = z.strictObject({
  method: z.enum(cureMethods),
  /** Walls up to this, in mm. */
  thickest: positive,
  minutes,
  label: z.string().min(1),
  source: sourceSchema,
});

const table = z.object({ methods: z.array(cureSchema).min(1), comparison: comparisonSchema }).parse(data);

/** The house table of each way to cure. A program may lay a resin supplier's schedule over one. */
export const houseCures: readonly Cure[] = table.methods;
export const cureComparison: z.infer<typeof comparisonSchema> = table.comparison;

/** Every source that the numbers of a method for a resin rest on. */
export function cureSources(method: Cure, resin: string): readonly Source[] {
  switch (method.kind) {
    case "ambient":
      return [
        method.pipeTemperature.source,
        ...Object.entries(method.holds).flatMap(([key, row]) => (key === resin ? [row.source] : [])),
        method.release.source,
      ];
    case "heated":
      return [
        method.startTemperature.source,
        ...method.schedules.flatMap(({ resins, source }) => (resins.includes(resin) ? [source] : [])),
        method.cooling.source,
        method.release.source,
      ];
    case "light":
      return [method.look.source, method.travel.source, method.cooling.source];
    case "stated":
      return [method.source];
    default:
      return method satisfies never;
  }
}
