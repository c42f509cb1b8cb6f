// Writes src/api/types.ts from the API's own description; with --check, says whether it is stale.
import { readFileSync, writeFileSync } from "node:fs";
import openapiTS, { astToString, COMMENT_HEADER } from "openapi-typescript";

const description = new URL(process.env.OPENAPI ?? "../../openapi/openapi.json", import.meta.url);
const target = new URL("../src/api/types.ts", import.meta.url);

const text =
  COMMENT_HEADER + astToString(await openapiTS(description, { defaultNonNullable: false }));
if (!process.argv.includes("--check")) {
  writeFileSync(target, text);
} else if (readFileSync(target, "utf8") !== text) {
  throw new Error(
    "src/api/types.ts is not what openapi/openapi.json gives: run `npm run types` and commit it.",
  );
}
