// The code that pairs another phone, on the server's own machine.
import type { Signal } from "@preact/signals";
import type { CodeOffered } from "../../courier/devices";
import { code_for_a_phone } from "../../courier/let_in_out";
import { time_of_day } from "../../parts/words";

/** The code is given on the server's own machine only, and shows only there. */
export function LetIn({ offered }: { offered: Signal<CodeOffered | string> }) {
  const now = offered.value;
  if (typeof now === "string") {
    return (
      <>
        {now && <p role="status">{now}</p>}
        <button
          type="button"
          onClick={async () => {
            offered.value = await code_for_a_phone();
          }}
        >
          Pair a phone
        </button>
      </>
    );
  }
  return (
    <div
      class="stack let-in"
      role="status"
      ref={(shown) => shown?.scrollIntoView({ block: "end" })}
    >
      <img src={now.picture} alt={`A link to scan, with the code ${now.code}`} />
      <p>
        Scan this with the phone’s camera, or type <strong>{now.code}</strong> there. It works once,
        until {time_of_day(Date.parse(now.until))}.
      </p>
      <button
        type="button"
        onClick={() => {
          offered.value = "";
        }}
      >
        Hide the code
      </button>
    </div>
  );
}
