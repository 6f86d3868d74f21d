/** The thread that selects a season: HiGHS blocks whatever thread it runs on. */
import { parentPort, workerData } from "node:worker_threads";
import type { SeasonWork } from "./season-work.ts";
import { solveSeasons } from "./solve-seasons.ts";

const port = parentPort;
if (port === null) throw new Error("season-worker runs as a worker thread only");
await solveSeasons(workerData as SeasonWork, (message) => port.postMessage(message));
