import { expect, test } from "vitest";
import { rfc3339 } from "./when";

// The text and the instant must agree in whatever zone the test runs: RFC 3339, section 5.6.
test.each([0, 1_700_000_000_000, Date.UTC(2026, 2, 29, 0, 59, 59), Date.UTC(2026, 9, 25, 1, 0, 0)])(
  "the instant %i is written with its offset and read back",
  (at_ms) => {
    const text = rfc3339(at_ms);
    expect(text).toMatch(/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d[+-]\d\d:\d\d$/);
    expect(Date.parse(text)).toBe(at_ms);
  },
);
