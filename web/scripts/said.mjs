// Prints every text that the pages may show, as JSON lines {file, line, text}: string literals,
// parts of templates, and text between tags. Names of modules are left out, and so are the tests.
import { readdirSync, readFileSync } from "node:fs";
import { join, relative } from "node:path";
import { fileURLToPath } from "node:url";
import ts from "typescript";

const WEB = fileURLToPath(new URL("..", import.meta.url));

for (const file of sources(join(WEB, "src"))) {
  const source = ts.createSourceFile(
    file,
    readFileSync(file, "utf8"),
    ts.ScriptTarget.Latest,
    true,
    file.endsWith("x") ? ts.ScriptKind.TSX : ts.ScriptKind.TS,
  );
  visit(source, source);
}

function sources(folder) {
  return readdirSync(folder, { withFileTypes: true })
    .flatMap((entry) => {
      const path = join(folder, entry.name);
      if (entry.isDirectory()) return sources(path);
      return /\.tsx?$/.test(path) && !/\.test\.tsx?$/.test(path) ? [path] : [];
    })
    .sort();
}

function visit(node, source) {
  if (ts.isImportDeclaration(node) || ts.isExportDeclaration(node)) return;
  const is_text =
    ts.isStringLiteral(node) ||
    ts.isJsxText(node) ||
    ts.isNoSubstitutionTemplateLiteral(node) ||
    ts.isTemplateHead(node) ||
    ts.isTemplateMiddle(node) ||
    ts.isTemplateTail(node);
  if (is_text && node.text.trim()) {
    const { line } = source.getLineAndCharacterOfPosition(node.getStart());
    const text = node.text.replace(/\s+/g, " ").trim();
    const file = relative(WEB, source.fileName);
    process.stdout.write(`${JSON.stringify({ file, line: line + 1, text })}\n`);
  }
  ts.forEachChild(node, (child) => visit(child, source));
}
