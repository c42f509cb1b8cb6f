// Clients, formulas and notes as tables (RFC 4180), for a spreadsheet.
import Papa from "papaparse";
import { all } from "../read";
import type { Entity, Kind } from "../shapes";

type Cell = string | number | boolean | null | undefined;
type Column<K extends Kind> = readonly [name: string, cell: (record: Entity<K>) => Cell];

const CLIENTS: readonly Column<"client">[] = [
  ["name", ({ name }) => name],
  ["phone", ({ phone }) => phone],
  ["born", ({ born }) => born],
  ["level", ({ hair }) => hair?.level],
  ["porosity", ({ hair }) => hair?.porosity],
  ["white_share", ({ hair }) => hair?.white_share],
  ["history", ({ history }) => history],
  ["colour_reaction", ({ colour_reaction }) => colour_reaction],
  ["black_tattoo", ({ black_tattoo }) => black_tattoo],
  ["dye_allergy", ({ dye_allergy }) => dye_allergy],
  ["persulfate_reaction", ({ persulfate_reaction }) => persulfate_reaction],
  ["usual_formula", ({ usual_formula }) => named("formula", usual_formula)],
  ["added_at", ({ created_at }) => created_at],
  ["id", ({ id }) => id],
];

const FORMULAS: readonly Column<"formula">[] = [
  ["name", ({ name }) => name],
  ["client", ({ client }) => named("client", client)],
  ["parts", (formula) => parts_words(formula)],
  ["developer_percent", ({ mix }) => mix?.developer?.percent],
  ["developer_g", ({ mix }) => mix?.developer?.grams],
  ["minutes", ({ mix }) => mix?.minutes],
  ["lightness", ({ predicted }) => predicted?.lab[0]],
  ["a", ({ predicted }) => predicted?.lab[1]],
  ["b", ({ predicted }) => predicted?.lab[2]],
  ["colour", ({ predicted }) => predicted?.words],
  ["made_at", ({ created_at }) => created_at],
  ["id", ({ id }) => id],
];

const NOTES: readonly Column<"note">[] = [
  ["at", ({ at, created_at }) => at ?? created_at],
  ["client", ({ client }) => named("client", client)],
  ["text", ({ text }) => text],
  ["photo", ({ photo }) => photo],
  ["corrects", ({ corrects }) => corrects],
  ["id", ({ id }) => id],
];

/** Returns the clients on this phone as a table. */
export const clients_csv = () => csv(CLIENTS, all("client").value);
/** Returns the formulas on this phone as a table. */
export const formulas_csv = () => csv(FORMULAS, all("formula").value);
/** Returns the notes on this phone as a table. */
export const notes_csv = () => csv(NOTES, all("note").value);

function csv<K extends Kind>(columns: readonly Column<K>[], rows: readonly Entity<K>[]): string {
  const head = columns.map(([name]) => name);
  return table([head, ...rows.map((row) => columns.map(([, cell]) => cell(row)))]);
}

// A spreadsheet would run a text that begins so as a formula (OWASP, CSV Injection).
const RUNS = /^[=+\-@\t\r\n\uff1d\uff0b\uff0d\uff20]/;

/** Returns rows of cells as RFC 4180 writes them; a text that a spreadsheet would run begins with '. */
export function table(rows: Cell[][]): string {
  return `${Papa.unparse(rows, { escapeFormulae: RUNS })}\r\n`;
}

function named(kind: "client" | "formula", id: string | undefined): string {
  if (!id) return "";
  const record = all(kind).value.find((one) => one.id === id);
  return record?.name ?? id;
}

function parts_words({ mix, products }: Entity<"formula">): string {
  const name_of = (id: string) => products?.find((product) => product.id === id)?.name ?? id;
  return (mix?.parts ?? [])
    .map(({ product, grams }) => `${name_of(product)} ${grams} g`)
    .join(" + ");
}
