// What to weigh for a spot on the skin: colour and developer in the line's own ratio.
interface Dab {
  colour_g: number;
  developer_g: number;
}

/** Grams to the scale's 0.1 g step; 2 to 10 g is what counts as a dab (the contract's test_dab). */
const LEAST_G = 2;
const MOST_G = 10;

/**
 * Returns the grams of a dab of `total_g`, held to 2–10 g, for `mix_ratio` parts of developer to one
 * of colour. That the dab is mixed as the colour will be is common practice with no published
 * source; a leaflet that says otherwise goes first.
 */
export function dab_of(mix_ratio: number, total_g: number): Dab {
  const whole_g = Math.min(MOST_G, Math.max(LEAST_G, total_g));
  const colour_g = Math.round((whole_g / (1 + mix_ratio)) * 10) / 10;
  return { colour_g, developer_g: Math.round(colour_g * mix_ratio * 10) / 10 };
}
