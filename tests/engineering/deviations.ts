import fc from "fast-check";
import { sizeConnectionLiner } from "../../src/engineering/connection-liner.ts";
import { scheduleCure } from "../../src/engineering/cure-schedule.ts";
import { capacityRatio, fullPipeFlow, greatestFlow, partFullFlow } from "../../src/engineering/flow.ts";
import { hydrostaticPressure, waterBuoyancyFactor } from "../../src/engineering/groundwater.ts";
import { inflationWindow, type PullSegment, pullTube } from "../../src/engineering/installation-force.ts";
import { designWall, type WallDesign, type WallInputs } from "../../src/engineering/liner-wall.ts";
import { gradesAfter } from "../../src/engineering/markov.ts";
import { ovalityReduction } from "../../src/engineering/ovality.ts";
import { type PotLifeLabel, potLife } from "../../src/engineering/pot-life.ts";
import { writeQuickRating } from "../../src/engineering/quick-rating.ts";
import { kendallTauB, spearmanRho } from "../../src/engineering/rank-agreement.ts";
import { resinForFelt, resinForGlass } from "../../src/engineering/resin.ts";
import { convertToWeight, splitMix } from "../../src/engineering/resin-mix.ts";
import { impliedByGlock, takeSecondOpinion } from "../../src/engineering/second-opinion.ts";
import { soilPrismLoad, soilSupport } from "../../src/engineering/soil-load.ts";
import {
  boussinesqInfluence,
  liveLoad,
  spreadPressure,
  surfaceLoadCoefficient,
} from "../../src/engineering/surface-load.ts";
import { failureWithin } from "../../src/engineering/survival.ts";
import {
  bendingPressure,
  bendingWall,
  bucklingPressure,
  bucklingWall,
  LEAST_STIFFNESS,
  ringStiffness,
  type SoilRing,
  soilBucklingLoad,
  soilBucklingWall,
  stiffnessWall,
} from "../../src/engineering/wall-checks.ts";
import { wallArea, wallVolume } from "../../src/engineering/wall-volume.ts";
import { findWorstCover, type SlopingLateral } from "../../src/engineering/worst-cover.ts";
import {
  KILOGRAMS_PER_POUND,
  LITRES_PER_GALLON,
  METRES_PER_FOOT,
  MILLIMETRES_PER_INCH,
} from "../../src/quantity/factors.ts";
import {
  celsius,
  fraction,
  kilograms,
  kilogramsPerLitre,
  kilopascals,
  litres,
  litresPerSecond,
  megapascals,
  metres,
  millimetres,
  minutes,
  newtons,
} from "../../src/quantity/si.ts";
import { lifeByArrhenius } from "../oracle/arrhenius.ts";
import { loadShareByQuadrature } from "../oracle/boussinesq-quadrature.ts";
import { chainPower } from "../oracle/chain-walk.ts";
import { depthByBisection, fullFlowUs, segmentFlow } from "../oracle/circular-segment.ts";
import { watchCure } from "../oracle/cure-clock.ts";
import { openingByCurve, sleeveByGenerators } from "../oracle/cylinder-joint.ts";
import { survivalBetween } from "../oracle/hazard.ts";
import { externalLoad, ovalityFactor, thinnest, wallByBisection } from "../oracle/liner-wall-us.ts";
import { marchPull } from "../oracle/pull-along-path.ts";
import { rhoByCounting, tauByPairs } from "../oracle/rank-pairs.ts";
import { ratingOfDefects } from "../oracle/rating-by-counting.ts";
import { resinInLaminate, ringArea, solveMix } from "../oracle/ring-and-laminate.ts";
import { ovalityTable, smallPipeTable } from "./published-tables.ts";
import {
  boussinesq,
  depthTable,
  feet,
  handbookCriteria,
  handbookMaterial,
  handbookRing,
  handbookSoil,
  inches,
  modulusPsi,
  pcf,
  percent,
  pounds,
  psi,
  spread,
  stated,
  toInches,
  toPsf,
  toPsi,
  wheel,
} from "./us-inputs.ts";
import { inSi, usPipe } from "./us-pipes.ts";

/*
 * How far every formula is from what it is checked against, over all cases of a check: shared/docs/equations.md prints
 * the largest, and a test holds it to that. Random cases come from a fixed seed, so the number is always the same.
 */

export interface Measured {
  readonly cases: number;
  /** Largest |ours ÷ theirs − 1|, or largest |ours − theirs| where the page says so. */
  readonly deviation: number;
}

type Pair = readonly [ours: number, theirs: number];

const relative = (pairs: readonly Pair[]): Measured => measured(pairs.map(([a, b]) => Math.abs(a / b - 1)));
const absolute = (pairs: readonly Pair[]): Measured => measured(pairs.map(([a, b]) => Math.abs(a - b)));

function measured(deviations: readonly number[]): Measured {
  if (deviations.length === 0 || deviations.some(Number.isNaN))
    throw new Error(`no deviation to measure in ${deviations}`);
  return { cases: deviations.length, deviation: Math.max(...deviations) };
}

/** The same cases every time. */
const sample = <T>(arbitrary: fc.Arbitrary<T>, numRuns: number): readonly T[] =>
  fc.sample(arbitrary, { numRuns, seed: 1216 });

const number = (min: number, max: number) => fc.double({ min, max, noNaN: true });

function design(inputs: WallInputs): WallDesign {
  const result = designWall(inputs);
  if (result.kind === "refused") throw new Error(`refused: ${JSON.stringify(result)}`);
  return result;
}

// Published. "Handbook": M. Najafi, Trenchless Technology Piping, McGraw-Hill/WEF/ASCE, 2010.

const handbookPipe: WallInputs = {
  deterioration: "fully",
  hostDiameter: inches(48),
  ovality: percent(2),
  cover: feet(16),
  headOverCrown: feet(8),
  headOverInvert: feet(12),
  soilUnitWeight: pcf(120),
  soilModulus: modulusPsi(1000),
  liveLoad: stated(psi(0.35)),
  material: handbookMaterial,
  criteria: handbookCriteria,
};

/** Handbook pp. 76-77. */
const w1Factors = () =>
  relative([
    [waterBuoyancyFactor(feet(8), feet(16)), 0.835],
    [soilSupport(feet(16)), 0.414],
    [ovalityReduction(percent(2)), 0.836],
  ]);

/** Handbook p. 77: 1.01 in under its own 14.90 psi, 0.790 in for the stiffness. */
const w1Walls = () =>
  relative([
    [toInches(soilBucklingWall(inches(48), psi(14.9), handbookSoil)), 1.01],
    [toInches(stiffnessWall(inches(48), modulusPsi(250_000))), 0.79],
  ]);

/** Handbook p. 76 prints 14.90; its own terms add up to 14.95. */
const w1Load = () => relative([[toPsi(design(handbookPipe).externalLoad?.total), 14.9]]);

/** Handbook pp. 76-77 reads C_sc = 0.03826, which belongs to 12 ft of cover: here at 12 ft. */
const w1Coefficient = () => relative([[surfaceLoadCoefficient(feet(4), feet(3), feet(12)), 0.03826]]);

/** Handbook p. 80 and p. 83: 5.20 psi, 0.878 in. */
const w2 = () =>
  relative([
    [toPsi(hydrostaticPressure(feet(12))), 5.2],
    [toInches(bucklingWall(inches(48), psi(5.2), handbookRing)), 0.878],
  ]);

/** Handbook pp. 80 and 83. */
const w3 = () =>
  relative([[toInches(bendingWall(inches(48), psi(5.2), percent(2), modulusPsi(4500), 2)), 0.376]]);

/** Handbook pp. 82-83: 22.3 mm. */
const w4 = () => relative([[design({ ...handbookPipe, deterioration: "partially" }).wall, 22.3]]);

/** Handbook Table 2.9. */
const w5 = () => absolute(ovalityTable.map(([q, published]) => [ovalityReduction(percent(q)), published]));

/** Handbook Table 2.14, liner n .010: the 8 of its 16 values at hand, whole percent. */
const w6 = () =>
  absolute(
    (
      [
        [0.014, [117, 122, 126, 128]],
        [0.016, [133, 140, 144, 146]],
      ] as const
    ).flatMap(([n, row]) =>
      row.map(
        (published, i): Pair => [
          capacityRatio(millimetres(30 + 10 * i), millimetres(1), n, 0.01),
          published / 100,
        ],
      ),
    ),
  );

const M = [0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1, 1.2, 1.5, 2] as const;
const coefficient = (m: number, n: number) => 4 * boussinesqInfluence(m, n);

/** "Buried Pipe Design", McGraw-Hill, Table 2.6 (= Handbook Table 2.12): the two of its 13 rows at hand. */
const w7 = () =>
  absolute(
    (
      [
        [0.2, [0.037, 0.072, 0.103, 0.131, 0.155, 0.174, 0.189, 0.202, 0.211, 0.219, 0.229, 0.238, 0.244]],
        [0.5, [0.079, 0.155, 0.224, 0.284, 0.336, 0.379, 0.414, 0.441, 0.463, 0.481, 0.505, 0.525, 0.54]],
      ] as const
    ).flatMap(([n, row]) => row.map((published, i): Pair => [coefficient(M[i]!, n), published])),
  );

/** The cells of that table in which the print differs from theory; the row n = 5 matched to its columns by theory. */
const w7Misprints = () =>
  absolute(
    (
      [
        [0.4, 1.5, 0.44],
        [1.5, 0.4, 0.44],
        [0.7, 1.5, 0.65],
        [1.5, 0.7, 0.65],
        [1.5, 1.5, 0.861],
        [0.7, 0.9, 0.584],
        [0.1, 5, 0.128],
        [0.9, 5, 0.784],
        [1, 5, 0.816],
        [1.2, 5, 0.868],
        [1.5, 5, 0.916],
      ] as const
    ).map(([m, n, published]) => [coefficient(m, n), published]),
  );

/** "Facility Piping Systems Handbook", McGraw-Hill, Table 6.10: C per foot; outside diameters 4.80 and 6.90 in from memory. */
const w8 = () =>
  absolute(
    smallPipeTable.flatMap(([cover, four, six]) =>
      (
        [
          [4.8, four],
          [6.9, six],
        ] as const
      ).map(
        ([outside, published]): Pair => [
          surfaceLoadCoefficient(metres(inches(outside) / 1000), feet(3), feet(cover)) / 3,
          published,
        ],
      ),
    ),
  );

/** A pipe manufacturer's installation guide, 2020, appendix A, with that guide's own load factors 1.95 and 1.75. */
const w10 = () =>
  relative([
    [1.95 * toPsf(soilPrismLoad(feet(2), pcf(140), 1)), 546],
    [
      1.75 *
        toPsf(
          spreadPressure(
            wheel("HS-25"),
            { ...spread("select-granular"), dynamicAtSurface: fraction(0) },
            feet(2),
          ),
        ),
      3379.22,
    ],
  ]);

/** Inspector-training chart, 8 in row, the 5 of its 12 cells at hand, against one fitted 64.6 lb/ft³ of wall: a fit. */
const w11 = () =>
  relative(
    (
      [
        [3, 1.3],
        [4.5, 2],
        [6, 2.6],
        [7.5, 3.2],
        [9, 3.8],
      ] as const
    ).map(([wall, published]) => {
      const perFoot = wallVolume(inches(8), millimetres(wall), metres(METRES_PER_FOOT));
      return [(64.6 * perFoot) / (METRES_PER_FOOT ** 3 * 1000), published];
    }),
  );

const fahrenheit = (f: number) => celsius(((f - 32) * 5) / 9);
const lasting = (hours: number) => ({ kind: "lasting", time: minutes(60 * hours) }) as const;

/** City of South Bend IN, public record 383937 p. 55: a tube of 24 to 33 mm, 18.75 h. */
const thickTube = () => {
  const schedule = scheduleCure(fahrenheit(60), [
    { kind: "heat", to: fahrenheit(155), pace: lasting(2) },
    { kind: "hold", time: minutes(240) },
    { kind: "heat", to: fahrenheit(175), pace: lasting(1) },
    { kind: "hold", time: minutes(480) },
    {
      kind: "cool",
      to: fahrenheit(100),
      pace: { kind: "no faster than", degreesPerHour: (20 * 5) / 9 },
    },
  ]);
  return relative([[schedule.total / 60, 18.75]]);
};

/** City of Nashua NH, section 02650: 0.433 psi per foot of groundwater. */
const inflation = () => {
  const limits = { host: kilopascals(700), bladder: kilopascals(700) };
  return relative(
    [1, 5, 10, 20].map((depth) => [
      toPsi(inflationWindow({ groundwater: feet(depth), branches: metres(0) }, kilopascals(0), limits).least),
      0.433 * depth,
    ]),
  );
};

// Oracles: another road to the same number, in tests/oracle/, which imports nothing of the program.

const wallTwice = () =>
  relative(sample(usPipe, 500).map((pipe) => [toInches(design(inSi(pipe)).wall), wallByBisection(pipe)]));

const loadTwice = () =>
  relative(
    sample(usPipe, 500)
      .filter(({ isFully }) => isFully)
      .map((pipe) => [toPsi(design(inSi(pipe)).externalLoad?.total), externalLoad(pipe)]),
  );

const ovalityTwice = () =>
  relative(sample(number(0, 10), 200).map((q) => [ovalityReduction(percent(q)), ovalityFactor(q)]));

const influenceTwice = () =>
  absolute(
    sample(fc.tuple(number(0.05, 4), number(0.05, 4)), 40).map(([m, n]) => [
      coefficient(m, n),
      loadShareByQuadrature(2 * m, 2 * n, 1),
    ]),
  );

const wheelTwice = () =>
  relative(
    sample(fc.tuple(number(0.5, 10), number(75, 1200)), 25).map(([cover, diameter]) => {
      const width = diameter / 1000;
      const share = loadShareByQuadrature(width, 0.9144, cover);
      return [
        liveLoad(boussinesq(), metres(cover), millimetres(diameter)) ?? Number.NaN,
        (share * pounds(16_000)) / (width * 0.9144) / 1000,
      ];
    }),
  );

const glockTwice = () =>
  relative(
    sample(number(1, 200), 200).map((pressure) => {
      const strength = (handbookRing.modulus * 1000 * handbookRing.reduction) / (2 * (1 - 0.3 ** 2));
      return [
        takeSecondOpinion(millimetres(150), kilopascals(pressure), handbookRing)?.glockWall ?? Number.NaN,
        thinnest((t) => strength * (t / (150 - t)) ** 2.2 >= pressure, 150),
      ];
    }),
  );

const slopes = fc.record({
  house: number(0.4, 6),
  main: number(0.4, 10),
  water: number(0, 8),
  soilModulus: number(200, 3000),
  load: fc.constantFrom(
    boussinesq("highway, 1.5 falling to 1.0"),
    boussinesq(),
    { kind: "spread", wheel: wheel("HS-25"), spread: spread("other") } as const,
    { kind: "depth table", table: depthTable } as const,
    stated(40),
  ),
});

/** How much thicker a wall 2,000 trial covers find than the search did; both sides of a whole foot are tried too. */
const coverTwice = () =>
  measured(
    sample(slopes, 60).map(({ house, main, water, soilModulus, load }) => {
      const lateral: SlopingLateral = {
        deterioration: "fully",
        hostDiameter: millimetres(150),
        ovality: percent(2),
        coverAtHouse: metres(house),
        coverAtMain: metres(main),
        groundwater: { kind: "table", depthBelowSurface: metres(water) },
        soilUnitWeight: pcf(120),
        soilModulus: modulusPsi(soilModulus),
        liveLoad: load,
        material: handbookMaterial,
        criteria: { ...handbookCriteria, strengthBasis: "long term" },
      };
      const found = findWorstCover(lateral);
      if (found.kind === "refused") throw new Error(JSON.stringify(found));
      const [low, high] = [Math.min(house, main), Math.max(house, main)];
      const trials = Array.from({ length: 2001 }, (_, i) => low + ((high - low) * i) / 2000);
      for (let foot = 0; foot < 40; foot++)
        trials.push(foot * METRES_PER_FOOT - 1e-6, foot * METRES_PER_FOOT);
      let thickest = 0;
      for (const cover of trials) {
        if (cover < low || cover > high) continue;
        const level = findWorstCover({ ...lateral, coverAtHouse: metres(cover), coverAtMain: metres(cover) });
        if (level.kind === "found") thickest = Math.max(thickest, level.design.wall);
      }
      return Math.max(0, thickest / found.design.wall - 1);
    }),
  );

const ringTwice = () =>
  relative(
    sample(fc.tuple(number(50, 300), number(0.01, 0.5)), 100).map(([D, share]) => [
      wallArea(millimetres(D), millimetres(D * share)) * 1e6,
      ringArea(D, D * share),
    ]),
  );

const laminateTwice = () =>
  relative(
    sample(fc.tuple(number(0.05, 0.9), number(0.9, 3), number(0.9, 3)), 200).map(([w, f, r]) => [
      resinForGlass(litres(1), {
        fibreMassFraction: fraction(w),
        fibreDensity: kilogramsPerLitre(f),
        excess: fraction(0),
        density: kilogramsPerLitre(r),
      }).volume,
      resinInLaminate(w, f, r),
    ]),
  );

const mixTwice = () =>
  relative(
    sample(
      fc.tuple(number(1, 200), number(1, 10), number(0.5, 5), number(0.9, 1.3), number(0.9, 1.3)),
      200,
    ).flatMap(([mass, b, h, baseDensity, hardenerDensity]) => {
      const ratio = convertToWeight(
        { basis: "by volume", base: b, hardener: h },
        { base: kilogramsPerLitre(baseDensity), hardener: kilogramsPerLitre(hardenerDensity) },
      );
      const ours = splitMix(kilograms(mass), ratio);
      const theirs = solveMix(mass, b, h, baseDensity, hardenerDensity);
      return [
        [ours.base, theirs.base],
        [ours.hardener, theirs.hardener],
      ] as const;
    }),
  );

const epoxy: PotLifeLabel = {
  system: "ambient two-part epoxy",
  life: minutes(30),
  at: celsius(25),
  factorPerTenDegrees: 2,
};

/** The rule of halving against Arrhenius with the energy that halves the life from 25 to 35 °C, 15 to 35 °C. */
const potLifeTwice = () =>
  relative(
    [15, 20, 25, 30, 35].map((at) => {
      const energy = (8.314462618e-3 * Math.LN2) / (1 / 298.15 - 1 / 308.15);
      return [potLife(celsius(at), epoxy), lifeByArrhenius(30, 25, at, energy)];
    }),
  );

const leg = fc.record({ to: number(10, 95), rate: number(5, 60), hold: fc.integer({ min: 0, max: 120 }) });

/** Minutes; each leg of the watched clock may run over by a tick of 0.01 min. */
const cureTwice = () =>
  absolute(
    sample(fc.array(leg, { minLength: 1, maxLength: 4 }), 20).map((legs) => {
      let now = 20;
      const steps = legs.flatMap(({ to, rate, hold }) => {
        const kind = to >= now ? ("heat" as const) : ("cool" as const);
        now = to;
        return [
          { kind, to: celsius(to), pace: { kind: "no faster than" as const, degreesPerHour: rate } },
          { kind: "hold" as const, time: minutes(hold) },
        ];
      });
      const watched = watchCure(
        20,
        legs.flatMap(({ to, rate, hold }) => [
          { to, leastMinutes: 0, degreesPerHour: rate },
          { to, leastMinutes: hold, degreesPerHour: Number.POSITIVE_INFINITY },
        ]),
      );
      return [scheduleCure(celsius(20), steps).total, watched];
    }),
  );

const piece: fc.Arbitrary<PullSegment> = fc.oneof(
  fc.record({
    kind: fc.constant("straight" as const),
    length: number(0.2, 40).map(metres),
    rise: number(-0.7, 0.7),
  }),
  fc.record({
    kind: fc.constant("bend" as const),
    turnDegrees: number(5, 90),
    radius: number(0.05, 2).map(metres),
  }),
);

const pullTwice = () =>
  relative(
    sample(
      fc.tuple(
        fc.array(piece, { minLength: 1, maxLength: 6 }),
        number(0.05, 0.8),
        number(0.05, 0.8),
        number(1, 200),
      ),
      40,
    ).flatMap(([path, friction, ropeFriction, tail]) => {
      const ours = pullTube(path, {
        newtonsPerMetre: 20,
        friction,
        ropeFriction,
        tailTension: newtons(tail),
      });
      const theirs = marchPull(path, { weight: 20, friction, ropeFriction, tail });
      return [
        [ours.atWinch, theirs.atWinch],
        [ours.inTube, theirs.inTube],
      ] as const;
    }),
  );

const manning = fc.tuple(number(1e-6, 0.9999), number(75, 300), number(0.009, 0.03), number(0.002, 0.2));

const depthTwice = () =>
  relative(
    sample(manning, 100).flatMap(([share, D, n, S]) => {
      const pipe = { diameter: millimetres(D), roughness: n, slope: fraction(S) };
      const flow = litresPerSecond(greatestFlow(pipe) * share);
      const state = partFullFlow(flow, pipe);
      if (state.kind !== "part full") throw new Error("beyond gravity flow");
      const depth = depthByBisection(flow / 1000, D / 1000, n, S);
      return [
        [state.depth / 1000, depth],
        [state.velocity, segmentFlow(depth, D / 1000, n, S).velocity],
      ] as const;
    }),
  );

const fullFlowTwice = () =>
  relative(
    sample(manning, 100).map(([, D, n, S]) => [
      fullPipeFlow({ diameter: millimetres(D), roughness: n, slope: fraction(S) }),
      fullFlowUs(D / 304.8, n, S) * METRES_PER_FOOT ** 3 * 1000,
    ]),
  );

const jointTwice = () =>
  relative(
    sample(fc.tuple(number(0.1, 0.98), number(30, 90)), 12).flatMap(([size, degrees]) => {
      const takeoff = sizeConnectionLiner({
        mainDiameter: millimetres(200),
        lateralDiameter: millimetres(200 * size),
        mainPart: { kind: "full circle", eachSide: metres(1) },
        mainThickness: millimetres(3),
        upLateral: metres(0.61),
        lateralThickness: millimetres(3),
        junctionDegrees: degrees,
        seals: { mainEdges: true, lateralEnd: true },
      });
      if (takeoff.kind === "refused") throw new Error(takeoff.because);
      return [
        [takeoff.opening, openingByCurve(0.1 * size, 0.1, degrees)],
        [takeoff.lateralSheet, sleeveByGenerators(0.1 * size, 0.1, degrees, 0.61)],
      ] as const;
    }),
  );

const lifeTwice = () =>
  absolute(
    sample(fc.tuple(number(1, 20), number(1, 100), number(40, 150), number(1, 5)), 100).map(
      ([years, age, scale, shape]) => [
        failureWithin(years, age, { scale, shape }),
        1 - survivalBetween(age, age + years, scale, shape),
      ],
    ),
  );

const chainTwice = () => {
  const chain = [
    [0.95, 0.05, 0, 0, 0],
    [0, 0.96, 0.03, 0.01, 0],
    [0, 0, 0.97, 0.02, 0.01],
    [0, 0, 0, 0.98, 0.02],
    [0, 0, 0, 0, 1],
  ];
  return absolute(
    [1, 5, 20, 75].flatMap((steps) => {
      const power = chainPower(chain, steps);
      return gradesAfter([1, 0, 0, 0, 0], steps, chain).map((share, j): Pair => [share, power[0]![j]!]);
    }),
  );
};

const scores = fc.array(fc.tuple(fc.integer({ min: 0, max: 9 }), fc.integer({ min: 0, max: 9 })), {
  minLength: 3,
  maxLength: 40,
});

const ranksTwice = () =>
  absolute(
    sample(scores, 100).flatMap((list) => {
      const [x, y] = [list.map(([a]) => a), list.map(([, b]) => b)];
      return (
        [
          [kendallTauB(x, y), tauByPairs(x, y)],
          [spearmanRho(x, y), rhoByCounting(x, y)],
        ] as const
      ).flatMap(([ours, theirs]): Pair[] => (ours === null || theirs === null ? [] : [[ours, theirs]]));
    }),
  );

const grades = fc.array(fc.integer({ min: 1, max: 5 }), { maxLength: 160 });

/** 1 for a rating that differs. */
const ratingTwice = () =>
  measured(
    sample(grades, 200).map((list) => {
      const count = (grade: number) => list.filter((found) => found === grade).length;
      const ours = writeQuickRating([count(1), count(2), count(3), count(4), count(5)]);
      return ours === ratingOfDefects(list) ? 0 : 1;
    }),
  );

// There and back: the wall, put into the forward equation, carries what it was sized for.

const ring = fc.record({
  diameter: number(50, 1500).map(millimetres),
  pressure: number(0.5, 300).map(kilopascals),
  modulus: number(500, 8000).map(megapascals),
  strength: number(5, 60).map(megapascals),
  ovality: number(0.001, 0.1).map(fraction),
  safetyFactor: number(1, 3),
  isNewer: fc.boolean(),
});

const wallsBack = () =>
  relative(
    sample(ring, 200).flatMap(
      ({ diameter, pressure, modulus, strength, ovality, safetyFactor, isNewer }): Pair[] => {
        const reduction = ovalityReduction(ovality);
        const free = { ...handbookRing, modulus, reduction, safetyFactor };
        const soil: SoilRing = {
          ...handbookSoil,
          edition: isNewer ? "2007b and later" : "before 2007b",
          modulus,
          reduction,
          safetyFactor,
        };
        const bent = bendingWall(diameter, pressure, ovality, strength, safetyFactor);
        return [
          [bucklingPressure(diameter, bucklingWall(diameter, pressure, free), free), pressure],
          [bendingPressure(diameter, bent, ovality, strength, safetyFactor), pressure],
          [soilBucklingLoad(diameter, soilBucklingWall(diameter, pressure, soil), soil), pressure],
          [ringStiffness(diameter, stiffnessWall(diameter, modulus), modulus), LEAST_STIFFNESS],
        ];
      },
    ),
  );

/** The implied K put into X1.1 gives Glock's own wall back. */
const impliedBack = () =>
  relative(
    sample(number(8, 120), 100).map((ratio) => {
      const wall = millimetres(150 / ratio);
      const enhanced = { ...handbookRing, enhancement: impliedByGlock(ratio) };
      const pressure = bucklingPressure(millimetres(150), wall, enhanced);
      return [takeSecondOpinion(millimetres(150), pressure, handbookRing)?.glockWall ?? Number.NaN, wall];
    }),
  );

// Self-made regression values at lateral size: worked out once from the same equations, not published anywhere.

const lateralWalls = () =>
  relative(
    (
      [
        [4, 4, 4, 1.81],
        [4, 8, 8, 2.01],
        [4, 12, 12, 2.34],
        [6, 4, 2, 2.51],
        [6, 8, 8, 3.01],
        [6, 12, 12, 3.52],
        [8, 8, 4, 3.54],
        [8, 12, 12, 4.69],
      ] as const
    ).map(([d, h, hw, wall]) => [
      design({
        ...handbookPipe,
        hostDiameter: inches(d),
        cover: feet(h),
        headOverCrown: feet(hw),
        headOverInvert: feet(hw + d / 12),
        soilModulus: modulusPsi(700),
        liveLoad: { kind: "depth table", table: depthTable },
      }).wall,
      wall,
    ]),
  );

const wheelPsf = () =>
  absolute(
    (
      [
        [2, 1338],
        [3, 707],
        [4, 428],
        [5, 284],
        [6, 202],
        [8, 116],
        [10, 75],
      ] as const
    ).map(([cover, psf]) => [toPsf(liveLoad(boussinesq(), feet(cover), inches(4))), psf]),
  );

const spreadPsf = () =>
  absolute(
    (
      [
        [2, 1927],
        [3, 1057],
        [4, 657],
        [6, 314],
        [8, 176],
      ] as const
    ).map(([cover, psf]) => [
      toPsf(spreadPressure(wheel("H-20"), spread("select-granular"), feet(cover))),
      psf,
    ]),
  );

const impliedK = () =>
  absolute(
    (
      [
        [20, 5.3],
        [25, 6.4],
        [28, 7],
        [30, 7.4],
        [40, 9.4],
        [50, 11.2],
        [60, 13.1],
      ] as const
    ).map(([ratio, K]) => [impliedByGlock(ratio), K]),
  );

/** Hand-calculated beside the source notes: host in, wall mm, gal/ft of resin at voids 0.87, excess 10 %. */
const resinByHand = () =>
  absolute(
    (
      [
        [3, 3, 0.0532],
        [3, 4.5, 0.0781],
        [4, 3, 0.0716],
        [4, 4.5, 0.1058],
        [4, 6, 0.1389],
        [6, 3, 0.1085],
        [6, 4.5, 0.1611],
        [6, 6, 0.2126],
        [8, 4.5, 0.2165],
        [8, 6, 0.2864],
      ] as const
    ).map(([host, wall, gallons]) => {
      const felt = {
        voids: fraction(0.87),
        excess: fraction(0.1),
        density: kilogramsPerLitre((9.4 * KILOGRAMS_PER_POUND) / LITRES_PER_GALLON),
      };
      const volume = wallVolume(
        millimetres(host * MILLIMETRES_PER_INCH),
        millimetres(wall),
        metres(METRES_PER_FOOT),
      );
      return [resinForFelt(volume, felt).volume / LITRES_PER_GALLON, gallons];
    }),
  );

/** By the id of the row in shared/docs/equations.md, in the page's order. */
export const measurements: ReadonlyMap<string, () => Measured> = new Map([
  ["W1 factors", w1Factors],
  ["W1 walls", w1Walls],
  ["W1 load", w1Load],
  ["W1 C_s", w1Coefficient],
  ["W2", w2],
  ["W3", w3],
  ["W4", w4],
  ["W5", w5],
  ["W6", w6],
  ["W7", w7],
  ["W7 misprints", w7Misprints],
  ["W8", w8],
  ["W10", w10],
  ["W11", w11],
  ["thick tube", thickTube],
  ["inflation", inflation],
  ["walls twice", wallTwice],
  ["load twice", loadTwice],
  ["ovality twice", ovalityTwice],
  ["influence twice", influenceTwice],
  ["wheel twice", wheelTwice],
  ["Glock twice", glockTwice],
  ["cover twice", coverTwice],
  ["ring twice", ringTwice],
  ["laminate twice", laminateTwice],
  ["mix twice", mixTwice],
  ["pot life twice", potLifeTwice],
  ["cure twice", cureTwice],
  ["pull twice", pullTwice],
  ["depth twice", depthTwice],
  ["full flow twice", fullFlowTwice],
  ["joint twice", jointTwice],
  ["life twice", lifeTwice],
  ["chain twice", chainTwice],
  ["ranks twice", ranksTwice],
  ["rating twice", ratingTwice],
  ["walls back", wallsBack],
  ["implied K back", impliedBack],
  ["lateral walls", lateralWalls],
  ["wheel psf", wheelPsf],
  ["spread psf", spreadPsf],
  ["implied K", impliedK],
  ["resin by hand", resinByHand],
]);
