// Colours between Lab and the screen, and how far two are apart; all for the 2° observer and D65.

export type Lab = readonly [l: number, a: number, b: number];
type Three = readonly [number, number, number];

// Linear sRGB to XYZ and back: IEC 61966-2-1, with the digits of CSS Color 4.
const TO_XYZ = [
  [0.4123907992659593, 0.357584339383878, 0.1804807884018343],
  [0.2126390058715102, 0.715168678767756, 0.0721923153607337],
  [0.0193308187155918, 0.119194779794626, 0.9505321522496607],
] as const;
const TO_RGB = [
  [3.2409699419045226, -1.5373831775700939, -0.4986107602930034],
  [-0.9692436362808796, 1.8759675015077204, 0.0415550574071756],
  [0.0556300796969936, -0.2039769588889765, 1.0569715142428784],
] as const;
// The white of D65, from its chromaticity 0.3127, 0.3290.
const WHITE = [0.3127 / 0.329, 1, 0.3583 / 0.329] as const;
// CIE 15: where Lab's cube root gives way to a straight line, and its slope.
const LEAST_ROOT = 216 / 24389;
const SLOPE = 24389 / 27;

/** Returns a Lab colour as "#rrggbb"; what the screen cannot show is cut to what it can. */
export function hex_of_lab([l, a, b]: Lab): string {
  const y = (l + 16) / 116;
  const xyz = each([y + a / 500, y, y - b / 200], (root, at) => {
    const cube = root ** 3;
    return (WHITE[at] ?? 1) * (cube > LEAST_ROOT ? cube : (116 * root - 16) / SLOPE);
  });
  const bytes = TO_RGB.map((row) => {
    const light = sum_of(row, xyz);
    const shown = light > 0.0031308 ? 1.055 * light ** (1 / 2.4) - 0.055 : 12.92 * light;
    return Math.round(255 * Math.min(1, Math.max(0, shown)));
  });
  return `#${bytes.map((byte) => byte.toString(16).padStart(2, "0")).join("")}`;
}

/** Returns the Lab that a "#rrggbb" shows, or undefined if the text is no such colour. */
export function lab_of_hex(hex: string): Lab | undefined {
  if (!/^#[\da-f]{6}$/i.test(hex)) return undefined;
  const rgb = each([1, 3, 5], (from) => {
    const shown = Number.parseInt(hex.slice(from, from + 2), 16) / 255;
    return shown > 0.04045 ? ((shown + 0.055) / 1.055) ** 2.4 : shown / 12.92;
  });
  const [x, y, z] = each([0, 1, 2], (at) => {
    const share = sum_of(TO_XYZ[at as 0 | 1 | 2], rgb) / (WHITE[at] ?? 1);
    return share > LEAST_ROOT ? Math.cbrt(share) : (SLOPE * share + 16) / 116;
  });
  return [116 * y - 16, 500 * (x - y), 200 * (y - z)];
}

/** Returns the colour difference of two Lab colours, CIEDE2000 (ISO/CIE 11664-6). */
export function difference([l1, a1, b1]: Lab, [l2, a2, b2]: Lab): number {
  // Chroma and hue, with a stretched where colours are greyish.
  const chroma_7 = ((Math.hypot(a1, b1) + Math.hypot(a2, b2)) / 2) ** 7;
  const stretch = 1.5 - 0.5 * Math.sqrt(chroma_7 / (chroma_7 + 25 ** 7));
  const [c1, h1] = chroma_and_hue(a1 * stretch, b1);
  const [c2, h2] = chroma_and_hue(a2 * stretch, b2);
  const grey = c1 * c2 === 0;
  // The shorter way round from one hue to the other, and the hue between them.
  const apart = Math.abs(h2 - h1) > Math.PI ? h2 - h1 - Math.sign(h2 - h1) * 2 * Math.PI : h2 - h1;
  const hue = grey ? h1 + h2 : h1 + apart / 2;
  const l_off = ((l1 + l2) / 2 - 50) ** 2;
  const chroma = (c1 + c2) / 2;
  const t =
    1 -
    0.17 * Math.cos(hue - radians(30)) +
    0.24 * Math.cos(2 * hue) +
    0.32 * Math.cos(3 * hue + radians(6)) -
    0.2 * Math.cos(4 * hue - radians(63));
  const by_lightness = (l2 - l1) / (1 + (0.015 * l_off) / Math.sqrt(20 + l_off));
  const by_chroma = (c2 - c1) / (1 + 0.045 * chroma);
  const by_hue =
    (grey ? 0 : 2 * Math.sqrt(c1 * c2) * Math.sin(apart / 2)) / (1 + 0.015 * chroma * t);
  // The turn of the ellipses in the blue, about 275°.
  const degrees = ((hue * 180) / Math.PI + 360) % 360;
  const blue = radians(60 * Math.exp(-(((degrees - 275) / 25) ** 2)));
  const turn = -2 * Math.sqrt(chroma ** 7 / (chroma ** 7 + 25 ** 7)) * Math.sin(blue);
  return Math.sqrt(by_lightness ** 2 + by_chroma ** 2 + by_hue ** 2 + turn * by_chroma * by_hue);
}

function chroma_and_hue(a: number, b: number): [chroma: number, hue_rad: number] {
  const hue = Math.atan2(b, a);
  return [Math.hypot(a, b), hue < 0 ? hue + 2 * Math.PI : hue];
}

function radians(degrees: number): number {
  return (degrees * Math.PI) / 180;
}

function sum_of([a, b, c]: Three, [x, y, z]: Three): number {
  return a * x + b * y + c * z;
}

function each([a, b, c]: Three, of: (value: number, at: number) => number): Three {
  return [of(a, 0), of(b, 1), of(c, 2)];
}
