// Reads photos with the page's own code: one JSON object a line with the file of its pixels, their
// size and the marks; prints each reply, with the ms it took. tests/photo_reading judges them.
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { runnerImport } from "vite";

const web = fileURLToPath(new URL("..", import.meta.url));
const { module } = await runnerImport("./src/photo_reading/read_photo.ts", {
  root: web,
  configFile: false,
});

for (const line of readFileSync(process.argv[2], "utf8").split("\n")) {
  const { pixels, width, height, marks } = JSON.parse(line);
  const picture = { width, height, data: new Uint8Array(readFileSync(pixels)) };
  const began_ms = performance.now();
  const reply = module.read_photo(picture, marks);
  process.stdout.write(`${JSON.stringify({ ...reply, took_ms: performance.now() - began_ms })}\n`);
}
