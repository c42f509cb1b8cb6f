// Writes a brotli copy beside every file of the engine's pack, says how many bytes of each are sent,
// by name, and refuses a pack heavier than it may be.
//
//   node scripts/compress_engine.mjs dist/assets/engine-0123456789ab
import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { compressed } from "./brotli.mjs";

const MOST_BYTES = 4_100_000;

const folder = process.argv[2];
const sent = await Promise.all(
  readdirSync(folder).map(async (name) => {
    const packed = await compressed(readFileSync(join(folder, name)));
    writeFileSync(join(folder, `${name}.br`), packed);
    return [name, packed.length];
  }),
);
const total = sent.reduce((sum, [, bytes]) => sum + bytes, 0);
if (total > MOST_BYTES) {
  process.stderr.write(
    `The engine's pack may weigh ${MOST_BYTES / 1e6} MB (brotli); it weighs ` +
      `${(total / 1e6).toFixed(2)} MB. See what the engine imports anew.\n`,
  );
  process.exit(1);
}
process.stderr.write(`Engine pack, brotli: ${(total / 1e6).toFixed(2)} MB\n`);
process.stdout.write(JSON.stringify(Object.fromEntries(sent)));
