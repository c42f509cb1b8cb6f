import { describe, expect, it } from "vitest";
import { emergency_number, FIRST_AID } from "./first_aid";
import { left_words, rinse_state } from "./rinse";

const MIN = 60_000;
const AT = Date.UTC(2026, 2, 29, 0, 50);
const running = { started_at_ms: AT, stopped_at_ms: 0 };

describe("the emergency number", () => {
  // Sources: 112 in the EU (Directive 2018/1972, article 109, from memory), 999 in the UK (NHS,
  // Anaphylaxis), 911 in the US (from memory).
  it("follows the profile, and is 112 where none was set", () => {
    expect(emergency_number("eu")).toBe("112");
    expect(emergency_number("uk")).toBe("999");
    expect(emergency_number("us")).toBe("911");
    expect(emergency_number("other")).toBe("112");
  });

  it("stands in the order of the sign that needs a call first", () => {
    const first_words = FIRST_AID.map(({ order }) => order("911"));
    expect(first_words.filter((words) => words.includes("Call 911"))).toHaveLength(1);
  });
});

describe("a rinse", () => {
  it("ends 20 minutes after it began and not a second before", () => {
    expect(rinse_state(running, AT + 20 * MIN - 1000)).toMatchObject({ left_ms: 1000 });
    expect(rinse_state(running, AT + 20 * MIN).state).toBe("over");
  });

  it("takes longer, never shorter, when the clock is set back", () => {
    expect(rinse_state(running, AT - 30 * MIN)).toMatchObject({
      state: "running",
      left_ms: 50 * MIN,
    });
  });

  it("that was stopped says after how long, and goes on where it is resumed", () => {
    const stopped = { ...running, stopped_at_ms: AT + 7 * MIN };
    expect(rinse_state(stopped, AT + 8 * MIN)).toEqual({ state: "stopped", rinsed_ms: 7 * MIN });
  });

  it("of an hour ago does not stand in the way of the next", () => {
    expect(rinse_state(running, AT + 81 * MIN).state).toBe("idle");
    expect(rinse_state({ ...running, stopped_at_ms: AT + MIN }, AT + 62 * MIN).state).toBe("idle");
  });

  it("is counted in whole seconds, the first and the last in full", () => {
    expect([20 * MIN, 19 * MIN + 1, 1].map(left_words)).toEqual(["20:00", "19:01", "0:01"]);
  });
});
