// How this phone shows weights, developer, money and light. No calculation changes.
import { computed } from "@preact/signals";
import { kept } from "./kept";

/** Whose rules apply; "other" takes the strictest. */
export type Profile = "eu" | "uk" | "us" | "other";

export interface Settings {
  weight: "g" | "oz";
  developer: "percent" | "volume";
  currency: string;
  theme: "device" | "light" | "dark";
  profile: Profile;
}

export const settings = kept<Settings>("settings", {
  weight: "g",
  developer: "percent",
  currency: "€",
  theme: "device",
  profile: "other",
});

/** Whether somebody has said whose rules apply: until then the page asks, and guesses nothing. */
export const country_said = kept("country_said", false);

/** Whether it is known whose rules apply: one that was chosen in an earlier version was said. */
export const country_known = computed(
  () => country_said.value || settings.value.profile !== "other",
);

/** Says whose rules apply. */
export function say_country(profile: Profile): void {
  settings.value = { ...settings.peek(), profile };
  country_said.value = true;
}

// International avoirdupois ounce, exact: 28.349523125 g.
const GRAMS_PER_OUNCE = 28.349523125;

/** Whether the colourist has said that this screen changes no colour by itself. */
export const screen_is_set = kept("screen_is_set", false);

/** Returns a weight in the person's unit: "24 g", "0.85 oz". */
export function weight(grams: number): string {
  if (settings.value.weight === "g") return `${rounded(grams, 1)}\u00a0g`;
  return `${(grams / GRAMS_PER_OUNCE).toFixed(2)}\u00a0oz`;
}

/** Returns a developer's strength in the person's unit: "6 %", "20 vol" (percent × 10 / 3). */
export function strength(peroxide_percent: number): string {
  if (settings.value.developer === "percent") return `${rounded(peroxide_percent, 2)}\u00a0%`;
  return `${rounded((peroxide_percent * 10) / 3, 1)}\u00a0vol`;
}

/** Returns money as "€ 4.20", or the bare number without a currency. */
export function money(amount: number): string {
  return `${settings.value.currency} ${amount.toFixed(2)}`.trim();
}

function rounded(value: number, digits: number): string {
  return String(Number(value.toFixed(digits)));
}
