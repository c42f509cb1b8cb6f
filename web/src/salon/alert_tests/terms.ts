// How long the salon's insurer lets one alert test hold. Without terms it is for one service; that
// is the rules' own answer, and only they work out from these months whether a test has lapsed.
import { computed } from "@preact/signals";
import { at_now, rfc3339 } from "../../device/when";
import { all } from "../../records/read";
import { set_setting } from "../../records/write";

const KEY = "alert_test_terms";
const YEAR_MS = 365 * 24 * 3_600_000;

interface TestTerms {
  months: number;
  by: string;
  why: string;
  /** Terms are asked for anew after a year. */
  review_on: string;
}

/** What the salon has set; null for one service each. */
export const test_terms = computed<TestTerms | null>(() => {
  const value = all("setting").value.find(({ key }) => key === KEY)?.value;
  return is_terms(value) ? value : null;
});

function is_terms(value: unknown): value is TestTerms {
  if (typeof value !== "object" || value === null) return false;
  const { months, by, why, review_on } = value as Partial<TestTerms>;
  return (
    [typeof months, typeof by, typeof why, typeof review_on].join() ===
    "number,string,string,string"
  );
}

/** Returns a term in words: "3 months"; none is one service. */
export function term_words(months: number): string {
  if (months === 0) return "one service";
  return months === 1 ? "1 month" : `${months} months`;
}

/** Sets for how many calendar months a test holds by the insurer's terms; 0 for one service each. */
export function set_test_terms(months: number, by: string): Promise<void> {
  const review_on = rfc3339(Date.parse(at_now()) + YEAR_MS);
  const terms = months ? { months, by, why: "the insurer’s terms", review_on } : null;
  return set_setting(KEY, terms, `An alert test holds for ${term_words(months)}.`);
}
