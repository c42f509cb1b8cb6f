// LevelDB that forces each write to the disk before it answers, as ours does: imported before
// PouchDB, whose own use of it asks for no such thing. `UNFORCED=1` leaves it as it comes.
import { createRequire } from "node:module";

const require = createRequire(import.meta.url);
const leveldown = require("leveldown");

if (process.env.UNFORCED !== "1") {
  // Each takes its options before the callback; `sync` is LevelDB's own word for it.
  force(leveldown.prototype, ["_put", "_del", "_batch"]);
  force(require("leveldown/chained-batch").prototype, ["_write"]);
}

function force(prototype, methods) {
  for (const method of methods) {
    const plainly = prototype[method];
    prototype[method] = function (...inputs) {
      const callback = inputs.pop();
      const options = { ...inputs.pop(), sync: true };
      return plainly.call(this, ...inputs, options, callback);
    };
  }
}
