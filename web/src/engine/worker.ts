// The engine on this device: the server's own Python files in a Python for browsers, behind the
// same door. Same bytes in, same bytes out. It says "ready" only after it has given the answers
// that the server's Python gave when the pack was built.
import { drop_other_packs, pack_file } from "./keep";
import { same_answer } from "./same";

export interface Pack {
  folder: string;
  engine_version: string;
  files: { name: string; bytes: number }[];
  self_test: { question: string; body: string; status: number; reply: unknown }[];
}

export type ToWorker = { pack: Pack } | { id: number; question: string; body: string };
export type FromWorker =
  | { state: "loading"; bytes: number; of_bytes: number }
  | { state: "starting" }
  | { state: "ready" }
  | { state: "failed"; why: string }
  | { id: number; status: number; body: string };

interface OfPython {
  destroy(): void;
}
interface Reply extends OfPython {
  status: number;
  body: OfPython & { toJs(): Uint8Array };
}
interface Runtime {
  unpackArchive(archive: ArrayBuffer, format: "zip", options: { extractDir: string }): void;
  pyimport(name: "basinside.engine.door"): { answer(question: string, body: OfPython): Reply };
  pyimport(name: "builtins"): { bytes(content: OfPython): OfPython };
  toPy(bytes: Uint8Array): OfPython;
}

const SITE_PACKAGES = "/lib/python3.14/site-packages";
// The smallest module there is: a browser that blocks WebAssembly refuses even this one, at once,
// where the runtime would wait for ever.
const SMALLEST_MODULE = new Uint8Array([0, 97, 115, 109, 1, 0, 0, 0]);

let answer: (question: string, body: string) => { status: number; body: string };

addEventListener("message", ({ data: told }: MessageEvent<ToWorker>) => {
  if ("pack" in told) {
    start(told.pack).catch((why: unknown) => say({ state: "failed", why: words(why) }));
    return;
  }
  try {
    say({ id: told.id, ...answer(told.question, told.body) });
  } catch (why) {
    // The door answers every question; what is thrown here has left the runtime unsound.
    say({ state: "failed", why: `The engine on this device broke off: ${words(why)}` });
  }
});

function say(message: FromWorker): void {
  postMessage(message);
}

function words(why: unknown): string {
  return why instanceof Error ? why.message : String(why);
}

async function start(pack: Pack): Promise<void> {
  try {
    new WebAssembly.Module(SMALLEST_MODULE);
  } catch (cause) {
    throw new Error("This browser does not let the page run WebAssembly.", { cause });
  }
  const engine = await download(pack);
  say({ state: "starting" });
  // Not bundled: the pack's own file, named by its hash.
  const { loadPyodide } = await import(/* @vite-ignore */ `${pack.folder}pyodide.mjs`);
  const runtime: Runtime = await loadPyodide({ indexURL: pack.folder });
  runtime.unpackArchive(engine, "zip", { extractDir: SITE_PACKAGES });
  answer = at_the_door(runtime);
  for (const { question, body, status, reply } of pack.self_test) {
    const given = answer(question, body);
    if (given.status !== status || !same_answer(JSON.parse(given.body), reply)) {
      throw new Error("The engine on this device failed its self-test, so it is not trusted.");
    }
  }
  say({ state: "ready" });
  await drop_other_packs(pack.folder).catch(() => {});
}

function at_the_door(runtime: Runtime): typeof answer {
  const door = runtime.pyimport("basinside.engine.door");
  const { bytes } = runtime.pyimport("builtins");
  return (question, body) => {
    // What the page hands over arrives as a view of memory; the door takes bytes.
    const view = runtime.toPy(new TextEncoder().encode(body));
    const asked = bytes(view);
    const reply = door.answer(question, asked);
    const said = reply.body;
    try {
      return { status: reply.status, body: new TextDecoder().decode(said.toJs()) };
    } finally {
      // Python's memory is not swept by the page's collector.
      for (const held of [said, reply, asked, view]) held.destroy();
    }
  };
}

/** Returns the engine's archive once every file is here. */
async function download({ folder, files }: Pack): Promise<ArrayBuffer> {
  const of_bytes = files.reduce((sum, { bytes }) => sum + bytes, 0);
  let total = 0;
  let engine: ArrayBuffer | undefined;
  for (const { name, bytes } of files) {
    const content = await pack_file(folder, name, bytes);
    if (name === "engine.zip") engine = content;
    total += bytes;
    say({ state: "loading", bytes: total, of_bytes });
  }
  if (!engine) throw new Error("The server's list of the engine's files lacks the engine itself.");
  return engine;
}
