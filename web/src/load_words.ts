/** Loads in words where no server answers, by the rules that the server sends: the same text as on its pages and on paper. */

/** What the server goes by: kilograms of a unit, how near a quarter counts as one, decimals, and its words. */
export interface LoadRules {
  unit: string;
  kg: number;
  quarter: number;
  digits: number;
  no_load: string;
  easier: string;
  band: string;
  guess: string;
  help: string;
  body: { none: string; more: string; less: string };
}

/** A load as it is written on the plate, without its unit. */
export function writtenLoad(kg: number, rules: LoadRules): string {
  const value = kg / rules.kg;
  const quarter = Math.round(4 * value) / 4;
  const text = Math.abs(value - quarter) < rules.quarter ? quarter.toFixed(2) : value.toFixed(rules.digits);
  return text.includes(".") ? text.replace(/0+$/, "").replace(/\.$/, "") : text;
}

/** A load: what hangs on the body, or is taken off it, where the body is the load. */
export function loadInWords(kg: number, hung: boolean, rules: LoadRules): string {
  const amount = `${writtenLoad(Math.abs(kg), rules)} ${rules.unit}`;
  if (!hung) return kg < 0 ? rules.help.replace("{}", amount) : amount;
  if (kg === 0) return rules.body.none;
  return (kg > 0 ? rules.body.more : rules.body.less).replace("{}", amount);
}
