import { expect, test } from "vitest";
import type { StripMinute } from "../../api/shapes";
import { flush_sentence } from "./flush";
import { geometry, lane_spans, slivers, spread, words_at } from "./geometry";
import { minute_sentence, plan_of, stage_at, window_words } from "./window";

const WIDTHS = [320, 358, 390, 768, 844, 1280, 1600];

test.each(WIDTHS)("at %i px the three lanes touch and fill their strip", (width) => {
  for (const strips of [1, 2, 5]) {
    const layout = geometry({ width, strips, minutes: 21, sideways: width >= 600 });
    for (const start of layout.across_start) {
      const spans = lane_spans(start, layout.across);
      expect(spans[0]?.start).toBe(start);
      spans.slice(1).forEach((span, place) => {
        const before = spans[place];
        expect(span.start).toBe((before?.start ?? 0) + (before?.px ?? 0));
      });
      const last = spans.at(-1);
      expect((last?.start ?? 0) + (last?.px ?? 0)).toBe(start + layout.across);
    }
  }
});

test.each(WIDTHS)("at %i px nothing is drawn outside the strip's own width", (width) => {
  for (const strips of [1, 5]) {
    const sideways = width >= 600;
    const layout = geometry({ width, strips, minutes: 31, sideways });
    const end = sideways
      ? layout.time_start + layout.minute_px * 31
      : (layout.across_start.at(-1) ?? 0) + layout.across;
    expect(end).toBeLessThanOrEqual(width);
    expect(layout.across).toBeGreaterThan(30);
  }
});

test("the slivers of a lane are two edges and a colour, and leave no gap", () => {
  const parts = slivers({ start: 10, px: 43 });
  expect(parts.reduce((sum, { px }) => sum + px, 0)).toBe(43);
  expect(parts[1].start).toBe(parts[0].start + parts[0].px);
  expect(parts[2].start).toBe(parts[1].start + parts[1].px);
});

test("labels that would overlap are moved apart, and stay above the last line", () => {
  expect(spread([10, 11, 12], 20, 100)).toEqual([10, 30, 50]);
  expect(spread([90, 95, 100], 20, 100)).toEqual([60, 80, 100]);
  expect(spread([10, 50, 90], 20, 100)).toEqual([10, 50, 90]);
});

const WINDOW = { earliest: 13, best: 16, latest: 20 };

test.each([
  [0, "too early"],
  [12, "too early"],
  [13, "good"],
  [15, "good"],
  [16, "best"],
  [17, "good"],
  [20, "good"],
  [21, "too late"],
])("minute %i is %s", (minute, stage) => {
  expect(stage_at(minute, WINDOW)).toBe(stage);
});

test("the plan names the best minute and how wide the window is", () => {
  expect(plan_of(WINDOW)).toEqual({ verb: "Rinse at", figure: "16", why: "13 to 20 is good." });
  const narrow = { earliest: 9, best: 9, latest: 9 };
  expect(plan_of(narrow).why).toBe("No other minute lands.");
});

test("without a window the plan gives the reason, and no minute has a place in it", () => {
  const reason = "No minute of this mix lands near the wish.";
  expect(plan_of({ reason })).toEqual({ verb: "No window", why: reason });
  expect(stage_at(5, { reason })).toBe("");
  expect(window_words({ reason })).toBe(reason);
});

function minute(at: number, on_head: string, a = 0, wiped = "looks 8, yellow"): StripMinute {
  const colour = (words: string, red: number) => ({
    lab: [70, red, 10] as [number, number, number],
    hex: "#aaaaaa",
    words,
    range: { within_delta_e: 1, edges: [] as never },
  });
  return {
    minute: at,
    on_head: colour(on_head, a),
    wiped: colour(wiped, a),
    if_rinsed: colour("level 10, beige", 0),
  };
}

test("a minute is read out with its place in the window and three looks", () => {
  expect(minute_sentence(minute(12, "looks 8, flushed mauve-pink"), WINDOW)).toBe(
    "Minute 12, too early. On the head looks 8, flushed mauve-pink; " +
      "wiped looks 8, yellow; dry if rinsed now level 10, beige.",
  );
});

test("a flush is announced at its pinkest, with where it is seen and when it has settled", () => {
  const flushed = "looks 8, flushed mauve-pink";
  const strip = [
    minute(3, "looks 8, beige", 1),
    minute(4, flushed, 6),
    minute(5, flushed, 8),
    minute(6, flushed, 7),
    minute(7, "looks 8, beige", 2),
  ];
  expect(flush_sentence(strip)).toBe(
    "About minute 5 it flushes mauve-pink on the head; " +
      "the blue is still forming. It settles after minute 6.",
  );
});

test("a flush hidden under the cream is announced for the wiped strand", () => {
  const strip = [minute(4, "looks 8, beige", 6, "looks 7, flushed pink")];
  expect(flush_sentence(strip)).toContain("flushes pink when you wipe a strand");
});

test("without a flush nothing is announced", () => {
  expect(flush_sentence([minute(4, "looks 8, beige", 6)])).toBeUndefined();
});

test("the words of a window that ends with the strip end there too", () => {
  expect(words_at(760, 1244, 1260)).toEqual({ x: 1244, anchor: "end" });
  expect(words_at(300, 600, 1260)).toEqual({ x: 450, anchor: "middle" });
});
