/** What is left of a loan after n yearly payments, year by year. */
export function loanAfter(principal: number, rate: number, payment: number, years: number): number {
  let left = principal;
  for (let year = 0; year < years; year++) left = left * (1 + rate) - payment;
  return left;
}

/** The payment that clears a loan, by halving. */
export function clearingPayment(principal: number, rate: number, years: number): number {
  let low = 0;
  let high = principal * (1 + rate);
  for (let i = 0; i < 200; i++) {
    const payment = (low + high) / 2;
    if (loanAfter(principal, rate, payment, years) > 0) low = payment;
    else high = payment;
  }
  return (low + high) / 2;
}

/** Sum of amounts each divided by its own power of (1 + i). */
export const discountEach = (amounts: readonly number[], rate: number): number =>
  amounts.reduce((sum, amount, i) => sum + amount / (1 + rate) ** (i + 1), 0);

/** What yearly deposits grow to. */
export function savingsAfter(deposit: number, rate: number, years: number): number {
  let saved = 0;
  for (let year = 0; year < years; year++) saved = saved * (1 + rate) + deposit;
  return saved;
}
