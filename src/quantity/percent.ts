/** A fraction in percent, with so many decimals: `12.5 %`. */
export const showPercent = (fraction: number, decimals: number): string =>
  `${(100 * fraction).toFixed(decimals)} %`;

/** A fraction that somebody stated, a rate or a limit: its decimals as far as four, and no zeros behind them: `4 %`, `3.125 %`. */
export const showStatedPercent = (fraction: number): string => `${Number((100 * fraction).toFixed(4))} %`;
