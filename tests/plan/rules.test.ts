import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  accessWays,
  crossBoreStates,
  effluents,
  hostMaterials,
  mainLinings,
} from "../../src/columns/lateral-columns.ts";
import { type TreatmentKind, treatmentKinds } from "../../src/columns/plan-columns.ts";
import { compileRules, ruleVocabulary } from "../../src/commands/compile-rules.ts";
import { readFormula } from "../../src/formula/formula.ts";
import type { Lateral } from "../../src/plan/lateral.ts";
import { type PlannedLateral, planLateral } from "../../src/plan/plan-lateral.ts";
import { describeReason } from "../../src/plan/reason.ts";
import { readFact } from "../../src/plan/rule-facts.ts";
import { bindRules } from "../../src/plan/rules.ts";
import { stated } from "../../src/plan/stated.ts";
import { celsius, fraction, type Metres } from "../../src/quantity/si.ts";
import { houseRules } from "../../src/reference/rule-table.ts";
import { chosenLiner, city, feet, inches, lateral, observation, on, survey, usBasis } from "./examples.ts";

type Differs = Partial<Lateral>;
/** With one-piece liners of the same felt, so that each use has a system. */
const basis = {
  ...usBasis,
  liners: { ...usBasis.liners, "one-piece": chosenLiner("felt, polyester", "launched from the main") },
};
const plan = (differs: Differs, of = usBasis) => planLateral(lateral(differs), of);
const saw = (kind: string, grade: number | null, differs: Parameters<typeof survey>[0] = {}) => [
  survey({ structuralGrade: 4, ...differs, observations: [observation({ kind, mode: "operation", grade })] }),
];
const graded = (differs: Parameters<typeof survey>[0]) => [survey(differs)];

/** The names of the rules against a treatment, for it, and that add a work to it. */
function rulesOn(differs: Differs, treatment: TreatmentKind) {
  const verdict = plan(differs, basis).verdicts.all.find((each) => each.treatment === treatment)!;
  const named = verdict.reasons.flatMap((reason) => (reason.code === "rule" ? [reason.rule] : []));
  const added = verdict.first.flatMap(({ because }) => (because.code === "rule" ? [because.rule] : []));
  return [...named, ...added];
}

const line4 = graded({ structuralGrade: 4 });
/** A lateral that fires each rule, and a treatment it then shows on. */
const fires: Readonly<Record<string, readonly [Differs, TreatmentKind]>> = {
  "cross-bore not cleared": [{ inspections: line4, crossBore: city("not cleared") }, "full-length liner"],
  "cross-bore found": [{ inspections: line4, crossBore: city("found") }, "open-cut replacement"],
  "asbestos-cement host": [{ inspections: line4, hostMaterial: city("asbestos cement") }, "pipe bursting"],
  "not inspected": [{ inspections: [] }, "full-length liner"],
  "seen in part": [{ inspections: graded({ structuralGrade: 4, complete: false }) }, "full-length liner"],
  "stopped since": [
    { inspections: [survey({ on: on("2024-01-01") }), survey({ complete: false, stoppedBecause: "water" })] },
    "full-length liner",
  ],
  "length not known": [{ inspections: line4, hostLength: null }, "full-length liner"],
  "diameter not known": [{ inspections: line4, hostDiameter: null }, "open-cut replacement"],
  "collapse seen": [{ inspections: saw("collapse", 5) }, "full-length liner"],
  "wall missing": [{ inspections: saw("missing wall", 5) }, "full-length liner"],
  "offset joint": [{ inspections: saw("joint offset", 5) }, "full-length liner"],
  "deep sag": [{ inspections: saw("sag", 4) }, "pipe bursting"],
  "bituminous fibre host": [
    { inspections: line4, hostMaterial: city("bituminous fibre") },
    "full-length liner",
  ],
  "deformed, ovality not measured": [{ inspections: saw("deformed", 3) }, "full-length liner"],
  "longer than the full-length system reaches": [{ hostLength: feet(151) }, "full-length liner"],
  "longer than the one-piece system reaches": [{ hostLength: feet(151) }, "one-piece liner"],
  "bend too sharp for the full-length system": [{ sharpestBend: city(91) }, "full-length liner"],
  "bend too sharp for the sectional system": [{ sharpestBend: city(91) }, "sectional liner"],
  "bend too sharp for the one-piece system": [{ sharpestBend: city(91) }, "one-piece liner"],
  "change of size too great for the full-length system": [
    { sizeChange: city(fraction(0.26)) },
    "full-length and connection liner",
  ],
  "change of size too great for the one-piece system": [
    { sizeChange: city(fraction(0.26)) },
    "one-piece liner",
  ],
  "effluent against the full-length system": [{ effluent: city("acid") }, "full-length liner"],
  "effluent against the sectional system": [{ effluent: city("acid") }, "sectional liner"],
  "effluent against the connection system": [{ effluent: city("acid") }, "connection liner"],
  "effluent against the one-piece system": [{ effluent: city("acid") }, "one-piece liner"],
  "too oval to line": [{ inspections: graded({ ovality: fraction(0.11) }) }, "full-length liner"],
  "sharp bend for bursting": [{ sharpestBend: city(60) }, "pipe bursting"],
  "no way in from the house": [{ access: city("main only") }, "full-length liner"],
  "no way in from the main": [{ access: city("building only") }, "connection liner"],
  "main to be lined": [{ mainLining: city("to be lined") }, "connection liner"],
  "main lined, bursting": [{ mainLining: city("lined") }, "pipe bursting"],
  "never inspected": [{ inspections: [] }, "inspect first"],
  "never seen whole": [{ inspections: graded({ complete: false }) }, "inspect first"],
  "another look is due": [{ inspections: graded({ on: on("2001-01-01") }) }, "inspect first"],
  "look when a cross-bore is made safe": [{ crossBore: city("found") }, "inspect first"],
  "look for cross-bores": [{ inspections: line4, crossBore: null }, "inspect first"],
  "measure first": [{ inspections: line4, hostLength: null }, "inspect first"],
  "collapse is dug up": [{ inspections: graded({ structuralGrade: 5, complete: false }) }, "inspect first"],
  "sound enough to leave": [{}, "leave and re-inspect"],
  "too bad to leave: structure": [{ inspections: line4 }, "leave and re-inspect"],
  "too bad to leave: flow": [{ inspections: graded({ omGrade: 3 }) }, "leave and re-inspect"],
  "too bad to leave: connection": [{ inspections: graded({ connectionGrade: 4 }) }, "leave and re-inspect"],
  "roots and dirt": [{ inspections: graded({ omGrade: 3 }) }, "clean and cut roots"],
  "cleaning is not enough": [{ inspections: line4 }, "clean and cut roots"],
  "leaking joints": [{ inspections: saw("infiltration seep", 3, { structuralGrade: 2 }) }, "joint grouting"],
  "roots before sealing": [{ inspections: saw("root mass", 3) }, "joint grouting"],
  "leaking joints with roots": [
    {
      inspections: [
        survey({
          observations: [
            observation({ kind: "root mass", mode: "operation", grade: 3 }),
            observation({ kind: "infiltration seep", mode: "operation", grade: 2 }),
          ],
        }),
      ],
    },
    "clean and grout",
  ],
  "structure needs a liner": [{ inspections: line4 }, "full-length liner"],
  "connection with it": [
    { inspections: graded({ structuralGrade: 4, connectionGrade: 4 }) },
    "full-length liner",
  ],
  "structure and connection": [
    { inspections: graded({ structuralGrade: 4, connectionGrade: 4 }) },
    "full-length and connection liner",
  ],
  "connection needs a liner": [{ inspections: graded({ connectionGrade: 4 }) }, "connection liner"],
  "more than its connection": [
    { inspections: graded({ structuralGrade: 4, connectionGrade: 4 }) },
    "connection liner",
  ],
  "beyond lining": [{ inspections: graded({ structuralGrade: 5 }) }, "open-cut replacement"],
  "cannot be lined": [{ inspections: line4, hostDiameter: inches(12) }, "open-cut replacement"],
  "deep sag is relaid": [{ inspections: saw("sag", 4) }, "open-cut replacement"],
  "collapse is replaced": [{ inspections: saw("collapse", 5) }, "open-cut replacement"],
  "offset joint is relaid": [{ inspections: saw("joint offset", null) }, "open-cut replacement"],
  "bituminous fibre is replaced": [
    { inspections: line4, hostMaterial: city("bituminous fibre") },
    "pipe bursting",
  ],
  "roots are cut first": [{ inspections: saw("root fine", 3) }, "full-length liner"],
  "protruding tap is cut back": [{ inspections: saw("protruding tap", 2) }, "full-length liner"],
  "running water is stopped": [{ inspections: saw("infiltration run", 3) }, "full-length liner"],
  "cleanout to work from": [{ inspections: line4, cleanout: null }, "full-length liner"],
};

describe("the rules of shared/treatment-rules.json", () => {
  it("are all compiled, without a fault", () => {
    expect(compileRules(usBasis).faults).toEqual([]);
  });

  it.each(houseRules.rules.map(({ name }) => name))("fires: %s", (name) => {
    const [differs, treatment] = fires[name]!;
    expect(rulesOn(differs, treatment)).toContain(name);
  });

  it("add works in the order of doing, once each, and their bid lines, time and cost with them", () => {
    const inspections = [
      survey({
        structuralGrade: 4,
        observations: [
          observation({ kind: "protruding tap", mode: "operation", grade: 3 }),
          observation({ kind: "root mass", mode: "operation", grade: 4 }),
          observation({ kind: "infiltration run", mode: "operation", grade: 4 }),
        ],
      }),
    ];
    const { chosen } = plan({ inspections, cleanout: city(false) });
    expect(chosen.works.map(({ work }) => work)).toEqual([
      "new cleanout",
      "clean and cut roots",
      "grouting of running infiltration",
      "full-length liner",
    ]);
    // 1,800 + 40 ft at 12.00 + 600 + 4,200 + 10 ft at 70.50.
    expect(chosen.cost.total).toBe(180_000 + 48_000 + 60_000 + 420_000 + 70_500);
    // The first step of the network of a new cleanout.
    expect(chosen.crewTime.steps[0]?.step).toBe("excavate by vacuum");
  });

  it("places both liners of a combination, each with its own resin, and pays for both", () => {
    const { chosen } = plan({
      inspections: graded({ structuralGrade: 4, connectionGrade: 4, structuralQuick: "4332" }),
    });
    expect(chosen.treatment).toBe("full-length and connection liner");
    expect(chosen.pieces.map(({ liner }) => liner.kind)).toEqual(["full length", "connection"]);
    expect(chosen.cost.lines.map(({ item }) => item)).toEqual([
      "full-length liner",
      "additional liner length",
      "connection liner",
    ]);
    // 4,200 + 10 ft at 70.50 + 3,100.
    expect(chosen.cost.total).toBe(420_000 + 70_500 + 310_000);
  });
});

/** The safety rules once more, by hand and from the lateral's record alone. */
function forbidden(of: Lateral): ReadonlySet<TreatmentKind> {
  const lining: readonly TreatmentKind[] = treatmentKinds.filter((kind) => kind.includes("liner"));
  const pipeWork: readonly TreatmentKind[] = [...lining, "pipe bursting"];
  const cutting: readonly TreatmentKind[] = ["clean and cut roots", "clean and grout"];
  const found = new Set<TreatmentKind>();
  const forbid = (when: boolean, kinds: readonly TreatmentKind[]) => {
    if (when) for (const kind of kinds) found.add(kind);
  };
  // A survey that says neither that it stopped nor how far it came counts as complete.
  const complete = of.inspections.some((each) => each.complete !== false);
  const collapse = of.inspections.some((each) => each.observations?.some(({ kind }) => kind === "collapse"));
  forbid(of.crossBore?.value !== "cleared", [...pipeWork, ...cutting]);
  forbid(of.crossBore?.value === "found", ["open-cut replacement", "joint grouting"]);
  forbid(of.hostMaterial?.value === "asbestos cement", [...pipeWork, ...cutting]);
  forbid(!complete, [...pipeWork, "joint grouting", "clean and grout"]);
  forbid(of.hostLength === null, [...pipeWork, ...cutting, "joint grouting", "open-cut replacement"]);
  forbid(of.hostDiameter === null, [...pipeWork, "open-cut replacement"]);
  forbid(collapse, pipeWork);
  // What the polyester felt of the house declares: 150 ft, bends of 90 degrees, a change of size by a quarter, domestic and grease, 60 °C.
  const over = (given: { readonly value: number } | null, limit: number) =>
    given !== null && given.value > limit;
  const whole = treatmentKinds.filter((kind) => /full-length|one-piece/.test(kind));
  forbid(over(of.hostLength, 150 * 0.3048), whole);
  forbid(over(of.sizeChange, 0.25), whole);
  forbid(over(of.sharpestBend, 90), [...whole, "sectional liner", "sectional and connection liner"]);
  forbid(over(of.effluentTemperature, 60), lining);
  forbid(!["domestic", "grease", undefined].includes(of.effluent?.value), lining);
  forbid(
    of.inspections.some(({ ovality }) => (ovality ?? 0) > 0.1),
    lining,
  );
  return found;
}

it("a city changes a limit by its rule: the words name the rule, and the verdict follows", () => {
  const rules = {
    ...houseRules,
    rules: houseRules.rules.map((rule) =>
      rule.name === "longer than the full-length system reaches"
        ? { ...rule, when: "if_missing(host_length > 30 ft, false)", because: "{host_length} is over 30 ft" }
        : rule,
    ),
  };
  const ruleBook = bindRules(compileRules({ ...usBasis, rules }));
  const of = lateral({ inspections: graded({ structuralGrade: 4, structuralQuick: "4332" }) });
  const verdict = planLateral(of, { ...usBasis, ruleBook }).verdicts.all.find(
    ({ treatment }) => treatment === "full-length liner",
  )!;
  expect(verdict.eligible).toBe(false);
  expect(verdict.reasons.map((reason) => describeReason(reason, usBasis.program))).toEqual([
    '40.0 ft is over 30 ft (rule "longer than the full-length system reaches")',
  ]);
});

/** Offers of an undecided lateral that some rule, whatever its kind, does not leave alone: asked rule by rule, without the verdicts. */
function offeredAgainstRules({ lateral: of, condition, effluent, offers, choice }: PlannedLateral) {
  const { thresholds } = basis.treatments;
  // Without a day for its main, what follows the main is offered only where nothing else is.
  const connectionFollowsMain = offers.every(({ treatment }) => followsMain.includes(treatment));
  const facts = {
    lateral: of,
    condition,
    effluent,
    basis,
    thresholds,
    connectionFollowsMain,
    liningImpossible: () => false,
  };
  const read = (key: string) => readFact(key, facts);
  // Where nothing is allowed the lateral is looked at first, whatever speaks against it.
  const offered = choice.reasons.some(({ code }) => code === "nothing else allowed") ? [] : offers;
  return offered.flatMap(({ treatment }) =>
    oneByOne.flatMap(({ rule, evaluate }) =>
      rule.refuses?.includes(treatment) && evaluate(read) !== 0 ? [`${treatment}: ${rule.name}`] : [],
    ),
  );
}
const followsMain: readonly TreatmentKind[] =
  houseRules.rules.find(({ name }) => name === "main to be lined")!.refuses ?? [];
/** Each rule's formula by itself, in the record form: not the one function that the plan asks. */
const oneByOne = houseRules.rules.map((rule) => {
  const read = readFormula(rule.when, ruleVocabulary(basis), "flag");
  if (!read.ok) throw new Error(`${rule.name}: ${JSON.stringify(read.problem)}`);
  return { rule, evaluate: read.formula.evaluate };
});

it("answers that stand from the lateral before are never those of another lateral or program", () => {
  const laterals: readonly Differs[] = [
    { inspections: line4 },
    { inspections: line4, effluentTemperature: city(celsius(95)) },
    { inspections: line4, effluent: city("acid"), crossBore: city("found") },
    { inspections: saw("collapse", 5), access: city("main only") },
  ];
  const { ruleBook } = usBasis;
  const programs = [basis, usBasis].map((of) => ({ ...of, ruleBook }));
  const asked = programs.flatMap((of) => laterals.map((differs) => ({ differs, of })));
  const verdicts = (differs: Differs, of: typeof usBasis) =>
    planLateral(lateral(differs), of).verdicts.all.map(({ treatment, reasons }) => ({ treatment, reasons }));
  const afresh = asked.map(({ differs, of }) =>
    verdicts(differs, { ...of, ruleBook: bindRules(compileRules(of)) }),
  );
  // One book, asked of each after each.
  for (const before of asked)
    for (const [i, { differs, of }] of asked.entries()) {
      verdicts(before.differs, before.of);
      expect(verdicts(differs, of)).toEqual(afresh[i]);
    }
});

it("no lateral is ever offered, or decided into, what a rule of safety forbids", () => {
  const maybe = <T>(arbitrary: fc.Arbitrary<T>) => fc.option(arbitrary, { nil: null });
  const grade = maybe(fc.integer({ min: 0, max: 5 }));
  const seen = fc
    .record({
      kind: fc.constantFrom("collapse", "root mass", "joint offset", "infiltration run", "sag"),
      grade,
    })
    .map((each) => observation({ ...each, mode: "operation" }));
  const inspection = fc
    .record({
      structuralGrade: grade,
      omGrade: grade,
      connectionGrade: grade,
      structuralQuick: fc.constantFrom("", "4100", "5236"),
      complete: fc.constantFrom(true, false, null),
      ovality: maybe(fc.double({ min: 0, max: 0.2, noNaN: true }).map(fraction)),
      observations: maybe(fc.array(seen, { maxLength: 3 })),
    })
    .map((differs) => survey(differs));
  const random = fc.record({
    inspections: fc.array(inspection, { maxLength: 1 }),
    crossBore: maybe(fc.constantFrom(...crossBoreStates)),
    hostMaterial: maybe(fc.constantFrom(...hostMaterials)),
    hostDiameter: maybe(fc.constantFrom(3, 4, 6, 12)),
    hostLength: maybe(fc.double({ min: 2, max: 60, noNaN: true })),
    access: maybe(fc.constantFrom(...accessWays)),
    mainLining: maybe(fc.constantFrom(...mainLinings)),
    sharpestBend: maybe(fc.integer({ min: 0, max: 120 })),
    sizeChange: maybe(fc.double({ min: 0, max: 0.5, noNaN: true }).map(fraction)),
    effluent: maybe(fc.constantFrom(...effluents)),
    effluentTemperature: maybe(fc.integer({ min: 10, max: 80 }).map(celsius)),
    decided: maybe(fc.constantFrom(...treatmentKinds)),
  });
  fc.assert(
    fc.property(random, (drawn) => {
      const given = <T>(value: T | null) => (value === null ? null : city(value));
      const of = lateral({
        inspections: drawn.inspections,
        crossBore: given(drawn.crossBore),
        hostMaterial: given(drawn.hostMaterial),
        hostDiameter: drawn.hostDiameter === null ? null : inches(drawn.hostDiameter),
        hostLength: given(drawn.hostLength as Metres | null),
        access: given(drawn.access),
        mainLining: given(drawn.mainLining),
        sharpestBend: given(drawn.sharpestBend),
        sizeChange: given(drawn.sizeChange),
        effluent: given(drawn.effluent),
        effluentTemperature: given(drawn.effluentTemperature),
        decided: {
          structuralGrade: null,
          omGrade: null,
          treatment: drawn.decided === null ? null : stated(drawn.decided, "decided", "test"),
        },
      });
      const planned = planLateral(of, basis);
      const no = forbidden(of);
      if (drawn.decided === null) expect(offeredAgainstRules(planned)).toEqual([]);
      expect(planned.offers.map(({ treatment }) => treatment).filter((kind) => no.has(kind))).toEqual([]);
      expect(no.has(planned.choice.treatment)).toBe(false);
      if (of.inspections.length === 0 && drawn.decided === null)
        expect(planned.choice.treatment).toBe("inspect first");
    }),
    { numRuns: 400 },
  );
});
