// Compiles the engine's files for its runtime, in that runtime, so that a phone need not: the
// engine with all it holds, and of the standard library what the engine imports when it is asked.
// The questions come in as JSON.
//
//   node scripts/bytecode.mjs sources.zip engine.zip python_stdlib.zip < questions.json
import { readFileSync, writeFileSync } from "node:fs";
import { loadPyodide } from "pyodide";

const LIBRARY = new URL(import.meta.resolve("pyodide/python_stdlib.zip"));
const SITE_PACKAGES = "/lib/python3.14/site-packages";

// Without docstrings, the types of functions and the columns of every expression, and the library
// without its lines too: so bytecode weighs less than its source. What it takes to say a line of
// the engine's own stays, and so do the types of fields, which shapes are read by. The document's
// examples stay out as well.
const COMPILE = `
import ast, io, sys, zipfile
from importlib._bootstrap_external import _code_to_hash_pyc
from types import CodeType

FOR_DOCUMENT = ("examples",)
ANY_DAY = (1980, 1, 1, 0, 0, 0)  # the earliest a zip can say: equal content, equal bytes


def imported():
    paths = (getattr(module, "__file__", None) or "" for module in list(sys.modules.values()))
    return {path.split(".zip/", 1)[1] for path in paths if ".zip/" in path}


def without_lines(code):
    inner = (without_lines(one) if isinstance(one, CodeType) else one for one in code.co_consts)
    return code.replace(co_linetable=b"", co_consts=tuple(inner))


def without_types(source):
    tree = ast.parse(source)
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "Meta":
            node.keywords = [each for each in node.keywords if each.arg not in FOR_DOCUMENT]
        if not isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef)):
            continue
        if node.decorator_list:  # some read them: functools' register does
            continue
        node.returns = None
        rest = [one for one in (node.args.vararg, node.args.kwarg) if one]
        for one in (*node.args.posonlyargs, *node.args.args, *node.args.kwonlyargs, *rest):
            one.annotation = None
    return tree


def compiled(source, name, lines):
    code = compile(without_types(source), name, "exec", dont_inherit=True, optimize=2)
    # The hash is never looked at: a pack holds no sources to compare with.
    return bytes(_code_to_hash_pyc(code if lines else without_lines(code), bytes(8), False))


def compile_all(archive, names, lines):
    target = io.BytesIO()
    with zipfile.ZipFile(archive) as sources, zipfile.ZipFile(target, "w") as packed:
        for name in sorted(names or sources.namelist()):
            content = sources.read(name)
            if name.endswith(".py"):
                name, content = name + "c", compiled(content, name, lines)
            packed.writestr(zipfile.ZipInfo(name, ANY_DAY), content)
    return target.getvalue()


names = imported()
`;

// Node's own report of an error would quote the runtime's one long line.
process.on("uncaughtException", ({ message }) => {
  process.stderr.write(message);
  process.exit(1);
});

// Read before the runtime starts: from then on, reading may not wait for what is still coming.
const questions = JSON.parse(readFileSync(0, "utf8"));
const [sources_path, engine_path, library_path] = process.argv.slice(2);
const sources = new Uint8Array(readFileSync(sources_path));
const env = { HOME: "/", PYTHONHASHSEED: "0", PYTHONNODEBUGRANGES: "1" };
const pyodide = await loadPyodide({ env });
pyodide.unpackArchive(sources, "zip", { extractDir: SITE_PACKAGES });
const { bytes } = pyodide.pyimport("builtins");
const { answer } = pyodide.pyimport("basinside.engine.door");
for (const { question, body, status } of questions) {
  const reply = answer(question, bytes(pyodide.toPy(new TextEncoder().encode(body))));
  if (reply.status !== status) throw new Error(`Expected ${status}; got ${reply.status}.`);
}
pyodide.runPython(COMPILE);
pyodide.FS.writeFile("/sources.zip", sources);
pyodide.FS.writeFile("/library.zip", new Uint8Array(readFileSync(LIBRARY)));
const compiled = (call) => pyodide.runPython(call).toJs();
writeFileSync(engine_path, compiled('compile_all("/sources.zip", None, True)'));
writeFileSync(library_path, compiled('compile_all("/library.zip", names, False)'));
