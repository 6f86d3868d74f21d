/** Mean gain of each group over every order of joining, all n! of them walked one by one. */
export function sharesByOrders(groups: number, valueWith: (mask: number) => number): readonly number[] {
  const gains = new Array<number>(groups).fill(0);
  let orders = 0;
  const walk = (mask: number, order: readonly number[]): void => {
    if (order.length === groups) {
      orders++;
      let joined = 0;
      for (const i of order) {
        gains[i]! += valueWith(joined | (1 << i)) - valueWith(joined);
        joined |= 1 << i;
      }
      return;
    }
    for (let i = 0; i < groups; i++) if (!(mask & (1 << i))) walk(mask | (1 << i), [...order, i]);
  };
  walk(0, []);
  return gains.map((gain) => gain / orders);
}
