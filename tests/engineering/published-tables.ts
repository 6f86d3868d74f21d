/** W5: "Trenchless Technology Piping", 2010, Table 2.9: ovality in %, reduction to two places. */
export const ovalityTable = [
  [0, 1],
  [1, 0.91],
  [2, 0.84],
  [4, 0.7],
  [5, 0.64],
  [6, 0.59],
  [8, 0.49],
  [10, 0.41],
] as const;

/** W8: "Facility Piping Systems Handbook", Table 6.10: cover in ft, C per foot of 4 in and of 6 in pipe, to three places. */
export const smallPipeTable = [
  [2, 0.034, 0.048],
  [2.5, 0.024, 0.034],
  [3, 0.017, 0.025],
  [3.5, 0.013, 0.02],
  [4, 0.011, 0.015],
  [5, 0.007, 0.01],
  [6, 0.005, 0.007],
  [8, 0.003, 0.004],
  [10, 0.002, 0.003],
] as const;
