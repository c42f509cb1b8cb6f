// Folds histories, one JSON list of operations a line, each in three orders, with the pages' own
// fold; prints the digest of each record. tests/records compares them with Python's.
import { createHash } from "node:crypto";
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { runnerImport } from "vite";

const web = fileURLToPath(new URL("..", import.meta.url));
const { module } = await runnerImport("./src/records/fold.ts", { root: web, configFile: false });

let state = 1;
/** A small generator of numbers in [0, 1), the same on every run (Park & Miller 1988, a = 48271). */
function chance() {
  state = (state * 48271) % 2147483647;
  return state / 2147483647;
}

function shuffled(operations) {
  const order = operations.map((op) => [chance(), op]);
  return order.sort(([a], [b]) => a - b).map(([, op]) => op);
}

function in_key_order(_key, value) {
  if (value === null || typeof value !== "object" || Array.isArray(value)) return value;
  return Object.fromEntries(Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1)));
}

function digest(operations) {
  const record = operations.reduce((before, op) => module.fold(before, op), undefined);
  const text = JSON.stringify(record ?? null, in_key_order);
  return createHash("sha256").update(text).digest("hex");
}

const digests = [];
for (const [line, text] of readFileSync(process.argv[2], "utf8").split("\n").entries()) {
  const operations = JSON.parse(text);
  const [first, ...others] = [operations, operations.toReversed(), shuffled(operations)].map(
    digest,
  );
  if (others.some((other) => other !== first)) {
    throw new Error(`The history on line ${line + 1} folds differently in another order.`);
  }
  digests.push(first);
}
process.stdout.write(digests.join("\n"));
