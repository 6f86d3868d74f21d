import type { Cents } from "../quantity/si.ts";

/** `1,277,029.00`, `−18,000.00`: exact, without a locale. */
export function money(amount: Cents): string {
  const whole = Math.floor(Math.abs(amount) / 100);
  const rest = String(Math.abs(amount) % 100).padStart(2, "0");
  const grouped = String(whole).replace(/\B(?=(\d{3})+$)/g, ",");
  return `${amount < 0 ? "−" : ""}${grouped}.${rest}`;
}
