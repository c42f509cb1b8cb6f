// Puts services before the safety rules as the page does, one JSON list of operations a line with
// what is asked; prints each request. tests/records compares them with the server's.
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { runnerImport } from "vite";

const web = fileURLToPath(new URL("..", import.meta.url));
const { module } = await runnerImport("./tests/gate/requests.ts", {
  root: web,
  configFile: false,
});

const lines = readFileSync(process.argv[2], "utf8").split("\n");
process.stdout.write(
  lines.map((line) => JSON.stringify(module.asked(JSON.parse(line)))).join("\n"),
);
