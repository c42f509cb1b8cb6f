// Imports point one way. dependency-cruiser reads nothing under some compilers and then reports
// success, so reading too few modules is a failure too.
import { readdirSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { cruise } from "dependency-cruiser";
import extractTSConfig from "dependency-cruiser/config-utl/extract-ts-config";

const web = fileURLToPath(new URL("..", import.meta.url));
process.chdir(web);

/** Modules under `from` may import only modules under `to` (and themselves, and packages). */
function only(from, to) {
  const own = [from, ...to].join("|");
  return {
    name: `${from}-imports-only-${to.join("-or-") || "itself"}`,
    severity: "error",
    from: { path: `^src/(${from})/` },
    to: { path: "^src/", pathNot: `^src/(${own})[./]|\\.css$` },
  };
}

const forbidden = [
  only("pages", [
    "screens",
    "parts",
    "gate",
    "records",
    "engine",
    "offline",
    "courier",
    "api/shapes",
    "place",
    "wide",
    "alarm",
  ]),
  only("screens", [
    "parts",
    "gate",
    "records",
    "engine",
    "offline",
    "courier",
    "api/shapes",
    "place",
  ]),
  only("gate", ["records", "engine", "api/shapes"]),
  only("parts", ["api/shapes"]),
  only("courier", ["records", "outbox", "api"]),
  only("records", ["outbox", "api"]),
  only("outbox", ["api"]),
  only("engine", ["api"]),
  only("offline", []),
  only("api", []),
  {
    name: "a-screen-never-imports-a-screen",
    severity: "error",
    from: { path: "^src/screens/([^/]+)/" },
    to: { path: "^src/screens/", pathNot: "^src/screens/$1/" },
  },
  { name: "no-circles", severity: "error", from: {}, to: { circular: true } },
  { name: "nothing-unresolved", severity: "error", from: {}, to: { couldNotResolve: true } },
];

const { output } = await cruise(
  ["src"],
  {
    validate: true,
    ruleSet: { forbidden },
    tsPreCompilationDeps: true,
    doNotFollow: { path: "node_modules" },
    tsConfig: { fileName: "tsconfig.json" },
    enhancedResolveOptions: { exportsFields: ["exports"], conditionNames: ["import", "types"] },
  },
  undefined,
  { tsConfig: extractTSConfig("tsconfig.json") },
);

const written = readdirSync("src", { recursive: true }).filter((name) => /\.tsx?$/.test(name));
const seen = new Set(output.modules.map(({ source }) => source.replace(/^src\//, "")));
const unread = written.filter((name) => !seen.has(name));
if (written.length === 0 || unread.length > 0) {
  throw new Error(`The import check read ${seen.size} modules and missed ${unread.join(", ")}.`);
}
if (output.summary.violations.length > 0) {
  const lines = output.summary.violations.map(
    ({ rule, from, to }) => `  ${from} imports ${to}: ${rule.name}`,
  );
  throw new Error(`Imports that point the wrong way:\n${lines.join("\n")}`);
}
process.stdout.write(`Imports: ${written.length} modules read, all point one way.\n`);
