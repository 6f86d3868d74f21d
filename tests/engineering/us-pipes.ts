import fc from "fast-check";
import type { WallInputs } from "../../src/engineering/liner-wall.ts";
import type { UsPipe } from "../oracle/liner-wall-us.ts";
import { feet, inches, modulusPsi, pcf, percent, psi, stated } from "./us-inputs.ts";

const number = (min: number, max: number) => fc.double({ min, max, noNaN: true });

/** Pipes of a city, in the units that the oracle works in. */
export const usPipe = fc
  .record({
    isFully: fc.boolean(),
    isOlderEdition: fc.boolean(),
    diameter: number(3, 48),
    ovality: number(0, 10),
    cover: number(1, 30),
    wetPart: number(0, 1.2),
    soilUnitWeight: number(90, 140),
    soilModulus: number(200, 3000),
    liveLoad: number(0, 10),
    modulus: number(200_000, 800_000),
    retention: number(0.3, 0.8),
    strength: number(1500, 9000),
    enhancement: number(4, 9),
    poissonsRatio: number(0.2, 0.4),
    safetyFactor: number(1.5, 2.5),
  })
  .map(({ wetPart, retention, ...rest }): UsPipe => {
    const headOverCrown = wetPart * rest.cover;
    return {
      ...rest,
      headOverCrown,
      headOverInvert: headOverCrown > 0 ? headOverCrown + rest.diameter / 12 : 0,
      longTermModulus: rest.modulus * retention,
      largestRatio: 100,
    };
  });

/** The same pipe in the program's units. */
export const inSi = (pipe: UsPipe): WallInputs => ({
  deterioration: pipe.isFully ? "fully" : "partially",
  hostDiameter: inches(pipe.diameter),
  ovality: percent(pipe.ovality),
  cover: feet(pipe.cover),
  headOverCrown: feet(pipe.headOverCrown),
  headOverInvert: feet(pipe.headOverInvert),
  soilUnitWeight: pcf(pipe.soilUnitWeight),
  soilModulus: modulusPsi(pipe.soilModulus),
  liveLoad: stated(psi(pipe.liveLoad)),
  material: {
    shortTermModulus: modulusPsi(pipe.modulus),
    longTermModulus: modulusPsi(pipe.longTermModulus),
    shortTermStrength: modulusPsi(pipe.strength * 2),
    longTermStrength: modulusPsi(pipe.strength),
  },
  criteria: {
    edition: pipe.isOlderEdition ? "before 2007b" : "2007b and later",
    strengthBasis: "long term",
    enhancement: pipe.enhancement,
    poissonsRatio: pipe.poissonsRatio,
    safetyFactor: pipe.safetyFactor,
    largestRatio: pipe.largestRatio,
  },
});
