// What else would explain a look in doubt, likeliest first: the first one has its answers.
import { signal } from "@preact/signals";
import { note_tap } from "../../parts/meant/taps";
import type { Suspect } from "../../prediction/held";
import { product_of, product_words } from "../../shelf/shelf";
import { ANY_TUBE, tube_asked } from "./state";

/** The causes somebody has looked into and found otherwise, in their words. */
export const ruled_out = signal<ReadonlySet<string>>(new Set());

/** Returns the causes that nobody has ruled out. */
export function Causes({ could_be }: { could_be: readonly Suspect[] }) {
  const [first, ...others] = could_be.filter(({ words }) => !ruled_out.value.has(words));
  if (!first) return null;
  return (
    <ul class="basin-causes">
      <First key={first.words} cause={first} />
      {others.map((cause) => (
        <li key={cause.words}>
          <p>{in_short(cause)}</p>
        </li>
      ))}
    </ul>
  );
}

function First({ cause }: { cause: Suspect }) {
  const { what, words, product, instead_of } = cause;
  const rule_out = () => {
    ruled_out.value = new Set([...ruled_out.peek(), words]);
  };
  if (what === "product" && product && instead_of) {
    return (
      <li class="basin-cause-first">
        <p>
          <strong>It looks like {product_words(product)}.</strong> You planned{" "}
          {product_words(instead_of)}. Read the tube.
        </p>
        <div class="basin-answers">
          <button type="button" onClick={rule_out}>
            It is {product_of(instead_of)?.name ?? "as planned"}
          </button>
          <button type="button" onClick={(event) => ask_for_the_tube(event, instead_of)}>
            It is another tube
          </button>
        </div>
      </li>
    );
  }
  return (
    <li>
      <p>{what === "reading" ? READ_AGAIN : words}</p>
      {what === "reading" ? (
        <button type="button" onClick={(event) => ask_for_the_tube(event, ANY_TUBE)}>
          Another tube
        </button>
      ) : (
        <button type="button" onClick={rule_out}>
          No, that is right
        </button>
      )}
    </li>
  );
}

const READ_AGAIN = (
  <>
    <strong>The strand may mislead you.</strong> Wipe one from the middle. Fan it over white.
  </>
);

function ask_for_the_tube(event: MouseEvent, instead_of: string): void {
  // The second tap of the same glove must not choose the tube that comes under it.
  note_tap(event);
  tube_asked.value = instead_of;
}

function in_short({ what, product, instead_of, words }: Suspect) {
  if (what === "reading") return READ_AGAIN;
  if (!product || !instead_of) return words;
  return `Or it is ${product_words(product)} in place of ${product_words(instead_of)}.`;
}
