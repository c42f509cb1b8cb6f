// The engine on this device: the server's own Python files in a Python for browsers, behind the
// same door. Same bytes in, same bytes out. It says "ready" only after it has given the server's
// answers to the self-test of the build. It gives all of them when a pack is new here, and the
// first at each later start.
import { BrokenOff } from "./fetch_piece";
import { drop_other_packs, files_of, type Here } from "./keep";
import type { Pack } from "./pack";
import { same_answer } from "./same";

export type ToWorker = { pack: Pack } | { id: number; question: string; body: string };
export type FromWorker =
  | ({ state: "loading"; of_bytes: number } & Here)
  | { state: "starting" }
  | { state: "ready"; kept: boolean }
  /** `by_itself`: the network failed, so another try may do, and comes without a tap. */
  | { state: "failed"; why: string; by_itself: boolean }
  | { state: "short of memory" }
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
// The smallest module there is. A browser that blocks WebAssembly refuses even this one, at once.
// The runtime would wait for ever.
const SMALLEST_MODULE = new Uint8Array([0, 97, 115, 109, 1, 0, 0, 0]);

const OUT_OF_MEMORY = /MemoryError|out of memory|could not allocate|memory access out of bounds/i;

let answer: (question: string, body: string) => { status: number; body: string };

addEventListener("message", ({ data: told }: MessageEvent<ToWorker>) => {
  if ("pack" in told) {
    start(told.pack).catch((why: unknown) => fail(why));
    return;
  }
  try {
    say({ id: told.id, ...answer(told.question, told.body) });
  } catch (why) {
    // The door answers every question; an exception here has left the runtime unsound.
    fail(why, "The engine on this device stopped: ");
  }
});

function say(message: FromWorker): void {
  postMessage(message);
}

function fail(why: unknown, before = ""): void {
  const words = why instanceof Error ? why.message : String(why);
  if (why instanceof RangeError || OUT_OF_MEMORY.test(words)) say({ state: "short of memory" });
  else say({ state: "failed", why: before + words, by_itself: why instanceof BrokenOff });
}

async function start(pack: Pack): Promise<void> {
  try {
    new WebAssembly.Module(SMALLEST_MODULE);
  } catch (cause) {
    throw new Error("This browser does not let the page run WebAssembly.", { cause });
  }
  const of_bytes = pack.files
    .flatMap(({ pieces }) => pieces)
    .reduce((sum, { sent_bytes }) => sum + sent_bytes, 0);
  const kept = await files_of(pack, (here) => say({ state: "loading", of_bytes, ...here }));
  say({ state: "starting" });
  const runtime = await start_runtime(pack, kept.files);
  answer = at_the_door(runtime);
  for (const known of kept.tested ? pack.self_test.slice(0, 1) : pack.self_test) {
    const given = answer(known.question, known.body);
    if (given.status !== known.status || !same_answer(JSON.parse(given.body), known.reply)) {
      throw new Error("The engine on this device failed its self-test, so we do not use it.");
    }
  }
  say({ state: "ready", kept: kept.all_kept });
  if (!kept.tested) await kept.note_tested();
  await drop_other_packs(pack).catch(() => {});
}

/** Returns the runtime with the engine's files in it. */
async function start_runtime(pack: Pack, files: Map<string, Blob>): Promise<Runtime> {
  const restore = hand_out(pack.folder, files);
  try {
    const engine = files.get("engine.zip")?.arrayBuffer();
    // Not bundled: the pack's own files, named by its hash. The first asks for the second.
    const [{ loadPyodide }] = await Promise.all([
      import(/* @vite-ignore */ `${pack.folder}pyodide.mjs`),
      import(/* @vite-ignore */ `${pack.folder}pyodide.asm.mjs`),
    ]);
    const options = {
      indexURL: pack.folder,
      lockFileContents: pack.lock,
      packageBaseUrl: pack.folder,
    };
    const runtime: Runtime = await Promise.race([when_not_compiled(), loadPyodide(options)]);
    if (!engine) throw new Error("The server's list of the engine's files lacks the engine.");
    runtime.unpackArchive(await engine, "zip", { extractDir: SITE_PACKAGES });
    return runtime;
  } finally {
    restore();
  }
}

/** Throws why the runtime could not be compiled; by itself it only warns and waits for ever. */
function when_not_compiled(): Promise<never> {
  const compile = WebAssembly.instantiateStreaming;
  return new Promise((_, reject) => {
    WebAssembly.instantiateStreaming = async (...given) => {
      WebAssembly.instantiateStreaming = compile;
      try {
        return await compile(...given);
      } catch (why) {
        reject(why);
        throw why;
      }
    };
  });
}

/** Gives the runtime the kept files; it fetches its files by address. */
function hand_out(folder: string, files: Map<string, Blob>): () => void {
  const from_network = globalThis.fetch;
  globalThis.fetch = async (asked, options) => {
    const { pathname } = new URL(asked instanceof Request ? asked.url : asked, location.href);
    const here = pathname.startsWith(folder) && files.get(pathname.slice(folder.length));
    if (!here) return from_network(asked, options);
    // Compiled while it is read; the browser does that for this type alone.
    const type = pathname.endsWith(".wasm") ? "application/wasm" : here.type;
    return new Response(here, { headers: { "content-type": type } });
  };
  return () => {
    globalThis.fetch = from_network;
  };
}

function at_the_door(runtime: Runtime): typeof answer {
  const door = runtime.pyimport("basinside.engine.door");
  const { bytes } = runtime.pyimport("builtins");
  return (question, body) => {
    // The page passes a view of memory; the door takes bytes.
    const view = runtime.toPy(new TextEncoder().encode(body));
    const asked = bytes(view);
    const reply = door.answer(question, asked);
    const said = reply.body;
    try {
      return { status: reply.status, body: new TextDecoder().decode(said.toJs()) };
    } finally {
      // The page's collector does not sweep Python's memory.
      for (const held of [said, reply, asked, view]) held.destroy();
    }
  };
}
