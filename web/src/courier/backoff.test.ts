import { describe, expect, it } from "vitest";
import { backoff_ms } from "./backoff";

describe("after a failure", () => {
  it("waits longer each time, from seconds to minutes", () => {
    const after = (failures: number) => backoff_ms({ failures, shown: false, lost_ms: 0 }, 1);
    const waits = [1, 2, 3, 4, 5, 6, 7, 8, 9, 60].map(after);
    expect(waits.slice(0, 3)).toEqual([2000, 4000, 8000]);
    expect(waits).toEqual([...waits].sort((a, b) => a - b));
    expect(waits.at(-1)).toBe(5 * 60_000);
  });

  it("waits a minute at most while somebody looks, however many writes have failed", () => {
    for (let failures = 1; failures < 60; failures += 1) {
      expect(backoff_ms({ failures, shown: true }, 1)).toBeLessThanOrEqual(60_000);
    }
  });

  it("never comes back at once, and not all at the same moment", () => {
    expect(backoff_ms({ failures: 9, shown: false }, 0)).toBe(1000);
    expect(backoff_ms({ failures: 9, shown: false }, 0.5)).toBe(150_000);
    expect(backoff_ms({ failures: 9, shown: true, lost_ms: 60_000 }, 0)).toBe(1000);
    expect(backoff_ms({ failures: 9, shown: true, lost_ms: 60_000 }, 0.5)).toBe(1500);
  });
});
