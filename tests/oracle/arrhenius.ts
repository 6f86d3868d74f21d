/** Life at a temperature by Arrhenius: t = t₀·exp(Ea/R·(1/T − 1/T₀)), Ea in kJ/mol, temperatures in °C. */
export function lifeByArrhenius(
  life: number,
  at: number,
  temperature: number,
  activationEnergy: number,
): number {
  const gasConstant = 8.314462618e-3;
  const kelvin = 273.15;
  return life * Math.exp((activationEnergy / gasConstant) * (1 / (temperature + kelvin) - 1 / (at + kelvin)));
}
