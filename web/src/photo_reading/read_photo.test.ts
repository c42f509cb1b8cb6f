// A plain drawn picture is read. For each fault that it is given, the answer names fault and place.
import { describe, expect, it } from "vitest";
import { hex_of_lab, type Lab } from "../colour";
import { fitted } from "./fit";
import { read_photo } from "./read_photo";
import type { Marks, PhotoReply, Pixels, Region } from "./shapes";

type Box = Extract<Region, { x: number }>;
const box = (x: number, y: number, width = 30, height = 30): Box => ({ x, y, width, height });
const GREYS = [0.05, 0.12, 0.25, 0.45, 0.7];
const CARD: readonly Lab[] = [
  [45, 40, 25],
  [60, -35, 30],
  [40, 10, -40],
  [75, 5, 60],
  [50, 35, -15],
  [65, -25, -15],
];
const STRAND: Lab = [55, 9, 30];

const lightness = (reflectance: number) => 116 * Math.cbrt(reflectance) - 16;
const SWATCH = box(120, 20, 30, 60);
const strip = (id: string, x: number, rows: readonly number[]) => ({
  id,
  steps: GREYS.map((reflectance, at) => ({
    reflectance,
    region: box(x, 10 + 36 * (rows[at] ?? 0)),
  })),
});
const [UP, DOWN] = [
  [0, 1, 2, 3, 4],
  [4, 3, 2, 1, 0],
] as const;
const [LEFT, RIGHT] = [strip("left", 10, UP), strip("right", 260, DOWN)];
const MARKS = {
  strips: [LEFT, RIGHT],
  card: CARD.map((lab, at) => ({ lab, region: box(60 + 32 * at, 120) })),
  known: [{ id: "mine", lab: [60, 6, 25] as Lab, region: box(60, 20, 30, 60) }],
  to_read: [{ id: "swatch", region: SWATCH }],
} satisfies Marks;

/** What a spoilt picture does to a code, 0 to 255, at a place. */
type Spoil = (code: number, channel: number, x: number, y: number) => number;

/** Draws the marks' own colours on a grey table. */
function drawn(spoil: Spoil = (code) => code, marks: Marks = MARKS): Pixels {
  const [width, height] = [300, 200];
  const data = new Uint8ClampedArray(4 * width * height);
  const put = ({ x, y, width: w, height: h }: Box, lab: Lab) => {
    const hex = hex_of_lab(lab);
    for (let row = y; row < y + h; row += 1)
      for (let column = x; column < x + w; column += 1)
        for (const channel of [0, 1, 2]) {
          const code = Number.parseInt(hex.slice(1 + 2 * channel, 3 + 2 * channel), 16);
          data[4 * (row * width + column) + channel] = spoil(code, channel, column, row);
        }
  };
  put(box(0, 0, width, height), [45, 0, 0]);
  for (const { steps } of marks.strips)
    for (const { reflectance, region } of steps) put(region as Box, [lightness(reflectance), 0, 0]);
  for (const { lab, region } of [...(marks.card ?? []), ...(marks.known ?? [])])
    put(region as Box, lab);
  put(SWATCH, STRAND);
  return { width, height, data };
}

function read(reply: PhotoReply) {
  if (!("read" in reply)) throw new Error(reply.refused[0].words);
  return reply.read;
}
function refused(reply: PhotoReply) {
  return "refused" in reply ? reply.refused[0] : undefined;
}

/** Numbers from 0 to 1, the same on every run (Park & Miller 1988, a = 48271). */
function chances() {
  let state = 7;
  return () => {
    state = (state * 48271) % 2147483647;
    return state / 2147483647;
  };
}

describe("a sound picture", () => {
  it("gives the drawn colour of a strand, and how sure it is", () => {
    const { readings, not_read, left_out, words } = read(read_photo(drawn(), MARKS));
    expect([not_read, left_out]).toEqual([[], []]);
    for (const axis of [0, 1, 2] as const) {
      expect(Math.abs((readings[0]?.lab[axis] ?? 0) - STRAND[axis])).toBeLessThan(1.5);
    }
    expect(readings[0]?.sd).toBeGreaterThan(0.2);
    expect(readings[0]?.sd).toBeLessThan(2);
    expect(words).toBe("Read by the greys and 6 patches and 1 known strand.");
  });

  it("says of one grey card alone that it is worth 4 ΔE", () => {
    const card = { id: "grey", steps: MARKS.strips[0]?.steps.slice(2, 3) ?? [] };
    const { readings, words } = read(
      read_photo(drawn(), { strips: [card], to_read: MARKS.to_read }),
    );
    expect(readings[0]?.sd).toBeGreaterThanOrEqual(4);
    expect(words).toMatch(/^Read by one grey card alone, which is worth about 4 ΔE\./);
  });

  it("reads the clean part of a strand that glosses on a third of it", () => {
    const glossy = drawn((code, _, x, y) =>
      x >= 120 && x < 150 && y >= 30 && y < 48 ? 230 : code,
    );
    const [reading] = read(read_photo(glossy, MARKS)).readings;
    const [clean] = read(read_photo(drawn(), MARKS)).readings;
    expect(Math.abs((reading?.lab[0] ?? 0) - (clean?.lab[0] ?? 0))).toBeLessThan(1);
  });

  it("takes a region by its four corners as by its box", () => {
    const { x, y, width, height } = SWATCH;
    const corners = [
      [x, y],
      [x + width, y],
      [x + width, y + height],
      [x, y + height],
    ] as const;
    const turned = { ...MARKS, to_read: [{ id: "swatch", region: { corners } }] };
    expect(read(read_photo(drawn(), turned))).toEqual(read(read_photo(drawn(), MARKS)));
  });
});

describe("a picture is refused", () => {
  it("where a grey step is burnt out", () => {
    const fault = refused(
      read_photo(
        drawn((code) => code * 1.3),
        MARKS,
      ),
    );
    expect(fault).toEqual({
      why: "clipped",
      where: { strip: "left", step: 4 },
      words: "Step 5 of the left strip is burnt out. Take the picture again, a little darker.",
    });
  });

  it("where a step has no light in one colour", () => {
    const fault = refused(
      read_photo(
        drawn((code, channel) => (channel === 2 ? code - 70 : code)),
        MARKS,
      ),
    );
    expect([fault?.why, fault?.where]).toEqual(["clipped", { strip: "left", step: 0 }]);
  });

  it("where lights of two colours fall on it", () => {
    const warm: Spoil = (code, channel, x) => (channel === 2 ? code * (1 - x / 1200) : code);
    expect(refused(read_photo(drawn(warm), MARKS))?.why).toBe("mixed light");
  });

  it("where the card is not there, or is turned", () => {
    const without = drawn(undefined, { ...MARKS, card: [] });
    const turned = {
      ...MARKS,
      card: MARKS.card.map(({ lab }, at) => ({ lab, region: MARKS.card[5 - at]?.region as Box })),
    };
    for (const fault of [
      refused(read_photo(without, MARKS)),
      refused(read_photo(drawn(), turned)),
    ]) {
      expect([fault?.why, fault?.where]).toEqual(["no card", { card: true }]);
    }
  });

  it("where a patch of the card is out of the picture", () => {
    const card = MARKS.card.map((patch, at) =>
      at === 5 ? { ...patch, region: box(280, 120) } : patch,
    );
    const fault = refused(read_photo(drawn(), { ...MARKS, card }));
    expect(fault?.words).toBe(
      "Patch 6 of the card is cut off. Take the picture again with all of it in sight.",
    );
  });

  it("where half of the card's patches are clipped", () => {
    const vivid = drawn((code, channel, _, y) => (y >= 115 && y < 155 && channel === 0 ? 0 : code));
    const only = {
      ...MARKS,
      strips: MARKS.strips.map((strip) => ({
        ...strip,
        steps: strip.steps.map((step) => ({ ...step })),
      })),
    };
    const moved = {
      ...only,
      strips: only.strips.map(({ id, steps }) => ({
        id,
        steps: steps.filter(({ region }) => region.y < 90 || region.y > 153),
      })),
    };
    const fault = refused(read_photo(vivid, moved));
    expect([fault?.why, fault?.where]).toEqual(["clipped", { patch: 0 }]);
  });

  it("where the steps of a strip go the other way", () => {
    const fault = refused(
      read_photo(drawn(), { ...MARKS, strips: [LEFT, strip("right", 260, UP)] }),
    );
    expect([fault?.why, fault?.where]).toEqual(["steps out of order", { strip: "right", step: 1 }]);
  });

  it("where it is out of focus", () => {
    const sharp = drawn();
    const soft = drawn((_, channel, x, y) => {
      let [sum, count] = [0, 0];
      for (let dy = -9; dy <= 9; dy += 3)
        for (let dx = -9; dx <= 9; dx += 3) {
          const [column, row] = [
            Math.min(299, Math.max(0, x + dx)),
            Math.min(199, Math.max(0, y + dy)),
          ];
          sum += sharp.data[4 * (row * 300 + column) + channel] ?? 0;
          count += 1;
        }
      return sum / count;
    });
    expect(refused(read_photo(soft, MARKS))?.why).toBe("blurred");
  });

  it("where it is too grainy", () => {
    const chance = chances();
    const grainy = drawn((code) => code + 60 * (chance() - 0.5));
    expect(refused(read_photo(grainy, MARKS))?.why).toBe("grainy");
  });

  it("where a step is marked too small, outside, or without its reflectance", () => {
    const with_step = (change: object) => ({
      ...MARKS,
      strips: [
        {
          id: "left",
          steps:
            MARKS.strips[0]?.steps.map((step, at) => (at === 2 ? { ...step, ...change } : step)) ??
            [],
        },
        MARKS.strips[1] as (typeof MARKS.strips)[1],
      ],
    });
    const why = (change: object) => refused(read_photo(drawn(), with_step(change)))?.why;
    expect(why({ region: box(10, 82, 30, 8) })).toBe("too small");
    expect(why({ region: box(10, 82, Number.NaN, 30) })).toBe("cut off");
    expect(why({ region: box(-5, 82) })).toBe("cut off");
    expect(why({ reflectance: 18 })).toBe("marks missing");
  });

  it("where one strip alone, or nothing to read, is marked", () => {
    const one = refused(read_photo(drawn(), { ...MARKS, strips: MARKS.strips.slice(0, 1) }));
    expect(one?.words).toBe("Mark two grey strips of at least 3 steps each, or one grey card.");
    expect(refused(read_photo(drawn(), { ...MARKS, to_read: [] }))?.why).toBe("marks missing");
  });
});

describe("a mark that cannot be used is named, and the rest is read", () => {
  it("a burnt strand", () => {
    const burnt = drawn((code, _, x, y) => (x >= 120 && x < 150 && y < 80 && y >= 20 ? 255 : code));
    const { readings, not_read } = read(read_photo(burnt, MARKS));
    expect(readings).toEqual([]);
    expect(not_read.map(({ why, where }) => [why, where])).toEqual([
      ["clipped", { strand: "swatch" }],
    ]);
  });

  it("a strand that is cut off or too small", () => {
    const to_read = [
      ...MARKS.to_read,
      { id: "off", region: box(290, 20) },
      { id: "tiny", region: box(120, 20, 8, 60) },
    ];
    const { readings, not_read } = read(read_photo(drawn(), { ...MARKS, to_read }));
    expect(readings.map(({ id }) => id)).toEqual(["swatch"]);
    expect(not_read.map(({ why }) => why)).toEqual(["cut off", "too small"]);
  });

  it("a patch whose colour the picture cannot hold", () => {
    const vivid = drawn((code, channel, x, y) =>
      x >= 60 && x < 90 && y >= 120 && y < 150 && channel === 0 ? 0 : code,
    );
    const { left_out, words } = read(read_photo(vivid, MARKS));
    expect(left_out.map(({ where }) => where)).toEqual([{ patch: 0 }]);
    expect(words).toContain("5 patches");
  });
});

it("a region left out in turn misses as if fitted without it", () => {
  // The closed form (Rasmussen & Williams 2006, eqs 5.10–5.12) against fitting again without it.
  const greys = [0.2, 0.35, 0.5, 0.65, 0.8].map((grey, at) => ({
    seen: { code: [grey, grey, grey] as const, at: [0, 0] as const, hair: 0 },
    lab: [100 * grey + (at === 2 ? 1 : 0), 0, 0] as Lab,
    sd: 0.4,
  }));
  const stray = [0.4, 0.4, 0.4] as const;
  const left_out = greys[2] as (typeof greys)[number];
  const { lab, sd } = fitted(
    greys.filter((one) => one !== left_out),
    stray,
  ).read(left_out.seen);
  // Only L* is off. One unit of L* makes 0.95 to 1 ΔE00 here. Its own part is counted apart.
  const expected = 3 * sd ** 2;
  const told = fitted(greys, stray).left_out[2] ?? 0;
  expect(told).toBeGreaterThan((left_out.lab[0] - lab[0]) ** 2 / (expected + 3 * left_out.sd ** 2));
});
