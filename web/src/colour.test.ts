import { differenceCiede2000, formatHex, modeLab65, modeRgb, parseHex, useMode } from "culori/fn";
import { expect, test } from "vitest";
import { difference, hex_of_lab, type Lab, lab_of_hex } from "./colour";

// Rows of the published table: Sharma, Wu & Dalal, Color Research & Application 30 (2005) 21–30.
test.each([
  [[50, 2.6772, -79.7751], [50, 0, -82.7485], 2.0425],
  [[50, 2.5, 0], [50, 0, -2.5], 4.3065],
  [[60.2574, -34.0099, 36.2677], [60.4626, -34.1751, 39.4387], 1.2644],
  [[6.7747, -0.2908, -2.4247], [5.8714, -0.0985, -2.2286], 0.6377],
  [[2.0776, 0.0795, -1.135], [0.9033, -0.0636, -0.5514], 0.9082],
] as const)("%j and %j differ by %f", (first, second, printed) => {
  expect(difference(first, second)).toBeCloseTo(printed, 4);
});

// IEC 61966-2-1 and CIE 15: sRGB grey 119 has Y = 0.1845 and so L* = 116 · 0.1845^(1/3) − 16 = 50.03.
test("a screen colour has its Lab", () => {
  const [l = 0, a = 1, b = 1] = lab_of_hex("#777777") ?? [];
  expect(l).toBeCloseTo(50.03, 2);
  expect([a, b].map(Math.abs)).toEqual([expect.closeTo(0, 2), expect.closeTo(0, 2)]);
  expect(lab_of_hex("no colour")).toBeUndefined();
});

// culori, an independent library, says what each should be.
useMode(modeRgb);
const to_lab = useMode(modeLab65);
const theirs = differenceCiede2000();
const lab65 = ([l, a, b]: Lab) => ({ mode: "lab65" as const, l, a, b });
const LABS = [0, 5, 8, 20, 50, 77, 95, 100].flatMap((l) =>
  [-90, -20, 0, 3, 60].flatMap((a) => [-100, -7, 0, 30, 80].map((b): Lab => [l, a, b])),
);

test("Lab colours are shown as the library shows them, also those a screen cannot show", () => {
  for (const lab of LABS) expect([lab, hex_of_lab(lab)]).toEqual([lab, formatHex(lab65(lab))]);
});

test("screen colours have the library's Lab", () => {
  for (const hex of LABS.map(hex_of_lab)) {
    const rgb = parseHex(hex);
    const { l, a, b } = to_lab(rgb as NonNullable<typeof rgb>);
    const own = lab_of_hex(hex) ?? [];
    expect([hex, ...own]).toEqual([hex, ...[l, a, b].map((v) => expect.closeTo(v, 3))]);
  }
});

test("differences are the library's, in both directions", () => {
  for (const [at, first] of LABS.entries()) {
    const second = LABS[(at * 37 + 11) % LABS.length] as Lab;
    const expected = expect.closeTo(theirs(lab65(first), lab65(second)), 6);
    expect([first, second, difference(first, second)]).toEqual([first, second, expected]);
    expect([second, first, difference(second, first)]).toEqual([second, first, expected]);
  }
});
