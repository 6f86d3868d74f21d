import * as z from "zod";

const SYSTEM =
  'the coordinate system of the columns x and y: "EPSG:4326" (longitude and latitude), or its definition "+proj=…"';

/**
 * `coordinates` of program.json: in which system the city's x and y are. Nothing is guessed from the numbers: those of
 * one system are as believable in another.
 */
export const coordinatesSchema = z.strictObject({
  system: z.string(SYSTEM).regex(/^(EPSG:\d{4,6}|\+proj=\S.*)$/, SYSTEM),
});
