// Writes the drawn references from a running API: bare hair by level and warmth, dry and wet, and
// what each tone word asks for at each level. With --check, says whether they are stale.
//
//   BASINSIDE_API=http://127.0.0.1:8000 npm run references
import { readFileSync, writeFileSync } from "node:fs";

const api = process.env.BASINSIDE_API ?? "http://127.0.0.1:8000";

const LEVELS = Array.from({ length: 20 }, (_, half) => 1 + half / 2);
const WARMTHS = [0.4, 0.65, 1, 1.55, 2.4];
const TONES = [
  ...["natural", "beige", "ash", "pearl", "silver", "smoke"],
  ...["violet", "rose", "gold", "copper", "red"],
  ...["pink", "purple", "blue", "turquoise"],
];

// A product without dye: what it leaves at minute 0 is the hair itself.
const CLEAR = {
  id: "clear",
  name: "clear",
  line: "clear",
  class: "neutral_demi",
  level: 10,
  tone: ["clear"],
  developer_percent: [1.9],
  window: { min: 0, max: 1 },
};

async function ask(question, request) {
  const response = await fetch(`${api}/api/${question}`, {
    method: "POST",
    headers: { "content-type": "application/json" },
    body: JSON.stringify({ ...request, products: [CLEAR] }),
  });
  const reply = await response.json();
  if (!response.ok) throw new Error(`${api} refused: ${reply.detail}`);
  return reply;
}

/** Returns [dry, wet, words] of bare hair. */
async function bare(level, warmth, lifted) {
  const mix = { parts: [{ product: CLEAR.id, grams: 40 }], minutes: 0 };
  const { strip } = await ask("predictions", {
    hair: { level, warmth, lifted },
    mix,
    minutes: [0],
  });
  const [{ if_rinsed, wiped }] = strip;
  return [if_rinsed.hex, wiped.hex, if_rinsed.words];
}

/** Returns the screen colour a wish asks for. */
async function wished(level, tone) {
  const { wish } = await ask("formulations", {
    hair: { level: 10 },
    wish: { level, tone: [tone] },
  });
  return wish.hex;
}

/** Returns a table, a row after a row, a question after a question. */
async function table(rows, columns, cell) {
  const made = [];
  for (const row of rows) {
    made.push([]);
    for (const column of columns) made.at(-1).push(await cell(row, column));
  }
  return made;
}

const colours = {
  tones: TONES,
  lifted: await table(WARMTHS, LEVELS, (warmth, level) => bare(level, warmth, true)),
  natural: await table(WARMTHS, LEVELS, (warmth, level) => bare(level, warmth, false)),
  wishes: await table(TONES, LEVELS, (tone, level) => wished(level, tone)),
};

write("ladder", { levels: LEVELS, warmths: WARMTHS });
write("colours", colours);

function write(name, references) {
  const target = new URL(`../src/references/${name}.generated.json`, import.meta.url);
  const text = `${JSON.stringify(references)}\n`;
  if (!process.argv.includes("--check")) {
    writeFileSync(target, text);
  } else if (readFileSync(target, "utf8") !== text) {
    throw new Error(`${name} is not what the engine gives: run \`npm run references\`.`);
  }
}
