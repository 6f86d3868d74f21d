import loadHighs from "highs";
import type {
  LinearAnswer,
  LinearModel,
  LinearSolver,
  SolverStops,
} from "../season/selection/linear-solver.ts";

type Highs = Awaited<ReturnType<typeof loadHighs>>;

/** Model statuses of HiGHS that we know what to make of. */
const OPTIMAL = 7;
const INFEASIBLE = 8;
const INFEASIBLE_OR_UNBOUNDED = 9;
const OBJECTIVE_TARGET = 12;
const SOLUTION_LIMIT = 16;
const INTERRUPTED = 17;
/** Part by which a limit, or a whole number, may be off where it is kept closely; the solver takes 1e-10 at the least. */
const CLOSE = 1e-9;
/** Callback of the branch and bound in which it may be interrupted. */
const MIP_INTERRUPT = 6;
const FEASIBLE = 2;

/** Loads HiGHS, once for a thread; its run blocks the thread it is on. */
export async function loadSolver(): Promise<LinearSolver> {
  const highs = await loadHighs();
  return (model, stops) => solveWith(highs, model, stops);
}

function solveWith(highs: Highs, given: LinearModel, stops: SolverStops): LinearAnswer {
  const numCols = given.cost.length;
  const numRows = given.rowLower.length;
  const model = highs.createModel({
    numCols,
    numRows,
    colCost: given.cost,
    colLower: given.lower,
    colUpper: given.upper,
    rowLower: given.rowLower,
    rowUpper: given.rowUpper,
    matrix: {
      format: "csc",
      numRows,
      numCols,
      starts: given.starts,
      indices: given.indices,
      values: given.values,
    },
    ...(given.whole === null ? {} : { integrality: given.whole }),
  });
  try {
    model.options.set({
      output_flag: false,
      mip_rel_gap: stops.gap,
      // The gap is a part of the objective; an absolute one beside it would stop small cases too early.
      mip_abs_gap: 0,
      mip_max_nodes: stops.nodes,
      ...(stops.closely === true
        ? { primal_feasibility_tolerance: CLOSE, mip_feasibility_tolerance: CLOSE }
        : {}),
      ...(stops.target === undefined ? {} : { objective_target: stops.target }),
    });
    const isWhole = given.whole !== null;
    model.run(
      isWhole
        ? {
            [MIP_INTERRUPT]: (event) => {
              const { mip_primal_bound: best, mip_dual_bound: bound } = event.data;
              if (best !== undefined && bound !== undefined) stops.progress?.(best, bound);
              if (stops.stopAsked?.() === true) event.interrupt();
              return undefined;
            },
          }
        : {},
    );
    const status = statusOf(model.getModelStatus());
    const found = Number(model.info.get("primal_solution_status")) === FEASIBLE;
    const solution = found ? model.getSolution() : null;
    const objective = found ? model.getObjectiveValue() : Number.POSITIVE_INFINITY;
    return {
      status,
      values: solution?.colValue ?? null,
      duals: isWhole || solution === null ? new Float64Array(0) : solution.rowDual,
      objective,
      bound: isWhole ? Number(model.info.get("mip_dual_bound")) : objective,
    };
  } finally {
    // Without this the memory of the solver is never given back.
    model.dispose();
  }
}

function statusOf(code: number): LinearAnswer["status"] {
  switch (code) {
    case OPTIMAL:
    case OBJECTIVE_TARGET:
      return "solved";
    case INFEASIBLE:
    case INFEASIBLE_OR_UNBOUNDED:
      return "no solution";
    case SOLUTION_LIMIT:
      return "node limit";
    case INTERRUPTED:
      return "stopped";
    default:
      return "failed";
  }
}
