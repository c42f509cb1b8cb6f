// Pairs this phone with the salon: a code from the desk, typed or brought by a link.
import { signal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { start_sending } from "../../courier/acts";
import { NotPairedYet, pair, pairing_here } from "../../courier/pair";
import { useTyped } from "../../device/typed";
import { installed } from "../../offline/install";
import { MyName } from "../../parts/names";
import { TextField } from "../../parts/text";
import { address_of } from "../../place";
import { author_here } from "../../records/read";
import { not_now, useMyNames } from "../../salon/who";

const code = signal("");
/** What this phone was called when it was paired before. */
const was_named = signal("");
const said = signal<{ words: string; state: "asked" | "working" | "refused" | "paired" }>({
  words: "",
  state: "asked",
});

/** Returns the screen; `id` is the code if a link brought it. */
export function PairScreen({ id }: { id: string }) {
  const [typed, type, forget] = useTyped<string | null>("phone_name", "", null);
  const name = typed ?? was_named.value;
  useEffect(() => {
    said.value = { words: "", state: "asked" };
    if (id) code.value = id;
    void pairing_here().then((pairing) => {
      if (pairing) was_named.value = pairing.name;
    });
  }, [id]);
  const { words, state } = said.value;
  if (state === "paired") {
    return (
      <section class="stack place" aria-labelledby="pair-heading">
        <h2 id="pair-heading">This phone is paired</h2>
        <p role="status">
          It sends your records to the desk and receives the others’. It still works offline.
        </p>
        {words && <p role="alert">{words}</p>}
        {!author_here.value && <WhoWorks />}
        <a class="button" href={address_of("today")}>
          Today
        </a>
      </section>
    );
  }
  return (
    <section class="stack place" aria-labelledby="pair-heading">
      <h2 id="pair-heading">Pair this phone</h2>
      <p>
        At the desk’s computer, <code>basinside pair</code> shows a code. It works once, for ten
        minutes.
      </p>
      {!installed.value && (
        <p class="quiet">
          Install Basinside first if you can, then pair the app. A browser may clear a plain tab’s
          records.
        </p>
      )}
      <form
        class="stack"
        onSubmit={(event) => {
          event.preventDefault();
          void try_to_pair(name, forget);
        }}
      >
        <TextField
          label="Code"
          value={code.value}
          mostLength={20}
          onType={(typed) => {
            code.value = typed;
          }}
          fault={state === "refused" ? words : undefined}
        />
        <TextField
          label="Name of this phone"
          value={name}
          mostLength={60}
          onType={type}
          note="Shown beside its entries, such as Ana’s phone."
        />
        <button type="submit" class="step-main" disabled={state === "working"}>
          {state === "working" ? "Pairing…" : "Pair this phone"}
        </button>
      </form>
    </section>
  );
}

/** The team comes in with the first records; a typed name joins it. */
function WhoWorks() {
  return (
    <MyName
      names={useMyNames()}
      heading="Who works on this phone?"
      note="Entries carry that name. One tap changes it."
      without="Not now"
      onWithout={not_now}
    />
  );
}

async function try_to_pair(name: string, forget: () => void): Promise<void> {
  if (!code.value.trim() || !name.trim()) {
    said.value = { words: "Type a code and a name.", state: "refused" };
    return;
  }
  said.value = { words: "", state: "working" };
  try {
    const lost = await pair(code.value, name);
    code.value = "";
    forget();
    said.value = { words: lost ?? "", state: "paired" };
    start_sending();
  } catch (why) {
    const words = why instanceof NotPairedYet ? why.message : STORE_SILENT;
    said.value = { words, state: "refused" };
  }
}

const STORE_SILENT =
  "This phone’s store did not answer. Close Basinside’s other windows and try again.";
