// Says of each field's value, one JSON [kind, field, value] a line, where it is not of its type, as
// the page sees it: a place, or null for a right one. tests/records compares it with the server's.
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { runnerImport } from "vite";

const web = fileURLToPath(new URL("..", import.meta.url));
const { module } = await runnerImport("./src/records/typed.ts", { root: web, configFile: false });

const lines = readFileSync(process.argv[2], "utf8").split("\n");
process.stdout.write(
  lines.map((line) => JSON.stringify(module.misfit(...JSON.parse(line)))).join("\n"),
);
