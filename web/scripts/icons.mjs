// Draws the page's mark, the development strip: three lanes of hair down the minutes, and the
// bracket of the rinse window. With --check, says whether the drawn files are stale.
import { readFileSync, writeFileSync } from "node:fs";
import { PNG } from "pngjs";

const folder = new URL("../public/", import.meta.url);

const INK = "#141414";
const WHITE = "#ffffff";
const SIDE = 64;
// As the engine sees a pearl demi on level 9.5, warmth 1.4, after 0, 5, 10, 15 and 20 minutes.
const LANES = [
  { width: 17, tones: ["#b7a99c", "#a49194", "#9c8c92", "#988b92", "#968c92"] }, // on the head
  { width: 5, tones: ["#9d7e54", "#876a52", "#7b6452", "#776352", "#756352"] }, // wiped
  { width: 17, tones: ["#d0b789", "#c7ae88", "#bca587", "#b5a086", "#b19e86"] }, // dry, if rinsed
];
const ROW = 9;
const GAP = 2;
const BRACKET = 3;
const WIDTH = LANES.reduce((sum, { width }) => sum + width, 0) + GAP + BRACKET;
const HEIGHT = 5 * ROW;

/** Returns the rectangles of the mark, drawn at `scale` of its size around the middle of 64 × 64. */
function rectangles(scale) {
  const left = (SIDE - WIDTH * scale) / 2;
  const top = (SIDE - HEIGHT * scale) / 2;
  const place = (x, y, width, height, colour) => ({
    ...{ x: left + x * scale, y: top + y * scale },
    ...{ width: width * scale, height: height * scale, colour },
  });
  const drawn = [{ x: 0, y: 0, width: SIDE, height: SIDE, colour: INK }];
  let x = 0;
  for (const { width, tones } of LANES) {
    for (const [row, tone] of tones.entries()) drawn.push(place(x, row * ROW, width, ROW, tone));
    x += width;
  }
  drawn.push(place(x + GAP, 2 * ROW, BRACKET, 2 * ROW, WHITE));
  return drawn;
}

/** Returns the drawing as SVG. */
function svg(drawn) {
  const lines = drawn.map(
    ({ x, y, width, height, colour }) =>
      `  <rect x="${x}" y="${y}" width="${width}" height="${height}" fill="${colour}" />`,
  );
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${SIDE} ${SIDE}">
  <title>Basinside</title>
${lines.join("\n")}
</svg>
`;
}

/** Returns the drawing as a picture of so many pixels; edges fall on whole pixels. */
function png(drawn, pixels) {
  const picture = new PNG({ width: pixels, height: pixels, colorType: 2 });
  const to_pixel = (length) => Math.round((length * pixels) / SIDE);
  for (const { x, y, width, height, colour } of drawn) {
    const rgb = [1, 3, 5].map((at) => Number.parseInt(colour.slice(at, at + 2), 16));
    for (let row = to_pixel(y); row < to_pixel(y + height); row += 1) {
      for (let column = to_pixel(x); column < to_pixel(x + width); column += 1) {
        picture.data.set([...rgb, 255], 4 * (row * pixels + column));
      }
    }
  }
  return PNG.sync.write(picture, { colorType: 2 });
}

const whole = rectangles(1);
// A system may cut a maskable picture to the circle of 80 % of its side (W3C, Web Application
// Manifest, "Icon masks and safe zone"); the mark's diagonal is kept inside it.
const in_circle = rectangles((0.78 * SIDE) / Math.hypot(WIDTH, HEIGHT));
const files = {
  "icon.svg": Buffer.from(svg(whole)),
  "icon-180.png": png(whole, 180),
  "icon-192.png": png(whole, 192),
  "icon-512.png": png(whole, 512),
  "icon-maskable-512.png": png(in_circle, 512),
};

for (const [name, content] of Object.entries(files)) {
  const target = new URL(name, folder);
  if (!process.argv.includes("--check")) {
    writeFileSync(target, content);
  } else if (!same_picture(name, readFileSync(target), content)) {
    throw new Error(
      `public/${name} is not what scripts/icons.mjs draws: run \`npm run icons\` and commit it.`,
    );
  }
}

/** Compares pixels, since another Node may compress the same picture to other bytes. */
function same_picture(name, there, drawn) {
  if (!name.endsWith(".png")) return there.equals(drawn);
  return PNG.sync.read(there).data.equals(PNG.sync.read(drawn).data);
}
