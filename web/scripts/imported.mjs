// Says which files of the standard library the engine imports in its runtime, by asking it there:
// the questions come in as JSON, the names leave as JSON. Only these are packed for the phone.
//
//   node scripts/imported.mjs engine.zip < questions.json
import { readFileSync } from "node:fs";
import { loadPyodide } from "pyodide";

const LIST = `
import json, sys
paths = (getattr(module, "__file__", None) or "" for module in list(sys.modules.values()))
json.dumps(sorted({path.split(".zip/", 1)[1] for path in paths if ".zip/" in path}))
`;

// Node's own report of an error would quote the runtime's one long line.
process.on("uncaughtException", ({ message }) => {
  process.stderr.write(message);
  process.exit(1);
});

const pyodide = await loadPyodide();
pyodide.unpackArchive(new Uint8Array(readFileSync(process.argv[2])), "zip", {
  extractDir: "/lib/python3.14/site-packages",
});
const { bytes } = pyodide.pyimport("builtins");
const { answer } = pyodide.pyimport("basinside.engine.door");
for (const { question, body, status } of JSON.parse(readFileSync(0, "utf8"))) {
  const reply = answer(question, bytes(pyodide.toPy(new TextEncoder().encode(body))));
  if (reply.status !== status) throw new Error(`Expected ${status}; got ${reply.status}.`);
}
process.stdout.write(pyodide.runPython(LIST));
