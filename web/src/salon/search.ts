// One search over everything on this device: clients, notes, formulas, the shelf.
import { computed } from "@preact/signals";
import { all, one } from "../records/read";
import { plain_text } from "./clients";

export interface Hit {
  id: string;
  what: "client" | "note" | "formula" | "product";
  /** The match, in its own words. */
  words: string;
  /** Its client, or nothing. */
  whose: string;
  /** The record to open for it: its own, or that of its service, client or line. */
  place: "client" | "service" | "formula" | "line";
  of: string;
}

const hits = computed(() => {
  const clients = all("client").value.map(({ id, name = "", phone = "", history = "" }) => ({
    hit: hit("client", id, name || "no name", "", "client", id),
    text: plain_text([name, phone, history].join(" ")),
  }));
  const notes = all("note").value.map(({ id, text = "", service = "", client = "" }) => {
    const whose = name_of(client || (one("service", service).value?.client ?? ""));
    const [place, of] = service ? (["service", service] as const) : (["client", client] as const);
    return { hit: hit("note", id, text, whose, place, of), text: plain_text(`${text} ${whose}`) };
  });
  const formulas = all("formula").value.map(({ id, name = "", client = "" }) => {
    const whose = name_of(client);
    return {
      hit: hit("formula", id, name || "no name", whose, "formula", id),
      text: plain_text(`${name} ${whose}`),
    };
  });
  const products = all("product").value.map(({ id, code = "", name = "", line = "" }) => {
    const whose = one("line", line).value?.name ?? "";
    const words = [code, name].filter(Boolean).join(" ");
    return {
      hit: hit("product", id, words, whose, "line", line),
      text: plain_text(`${words} ${whose}`),
    };
  });
  return [...clients, ...formulas, ...products, ...notes.reverse()];
});

/** Returns at most so many matches for all words typed; clients first, the newest notes last. */
export function found_everywhere(typed: string, most: number): Hit[] {
  const words = plain_text(typed).split(" ").filter(Boolean);
  if (words.length === 0) return [];
  const found: Hit[] = [];
  for (const { hit: each, text } of hits.value) {
    if (words.every((word) => text.includes(word))) found.push(each);
    if (found.length === most) break;
  }
  return found;
}

function hit(
  what: Hit["what"],
  id: string,
  words: string,
  whose: string,
  place: Hit["place"],
  of: string,
): Hit {
  return { id, what, words, whose, place, of };
}

function name_of(client: string): string {
  return client ? (one("client", client).value?.name ?? "") : "";
}
