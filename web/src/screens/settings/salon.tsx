// The phone's pairing, and the state of its sending.
import { signal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { count_again, send_now } from "../../courier/acts";
import { leave_salon, NotPairedYet, type Pairing, pairing_here } from "../../courier/pair";
import { clock_warning, handed_back_words, sending, sending_words } from "../../courier/state";
import { tray } from "../../courier/tray";
import { address_of } from "../../place";

const pairing = signal<Pairing | undefined>(undefined);
const said = signal("");

/** Returns the settings' part about the salon. */
export function Salon() {
  useEffect(() => {
    void look();
  }, []);
  const mine = pairing.value;
  if (!mine) {
    return (
      <div class="stack" id="salon">
        <h3>The salon’s desk</h3>
        <p>This phone keeps its records to itself. Pair it to share them with the salon.</p>
        <a class="button" href={address_of("pair")}>
          Pair this phone
        </a>
      </div>
    );
  }
  const now = sending.value;
  const notices = [clock_warning(now), handed_back_words(now), said.value].filter(Boolean);
  const again = mine.token === "" || now.trouble?.status === 401 || now.trouble?.status === 403;
  return (
    <div class="stack" id="salon">
      <h3>The salon’s desk</h3>
      <p role="status">
        {mine.token ? sending_words(now) : "Signed out. Your records stay on this phone."}
      </p>
      {notices.map((words) => (
        <p key={words} role="status">
          {words}
        </p>
      ))}
      <p class="quiet">This phone is called {mine.name}.</p>
      {tray.value.length > 0 && (
        <a class="button" href={address_of("look")}>
          {tray.value.length} refused: have a look
        </a>
      )}
      {again ? (
        <a class="button" href={address_of("pair")}>
          Pair again
        </a>
      ) : (
        <>
          <button type="button" onClick={send_now}>
            Send now
          </button>
          <button type="button" onClick={() => void leave()}>
            Sign this phone out
          </button>
        </>
      )}
    </div>
  );
}

async function look(): Promise<void> {
  pairing.value = await pairing_here();
  if (pairing.value) await count_again();
}

async function leave(): Promise<void> {
  try {
    await leave_salon();
    said.value = "";
  } catch (why) {
    if (!(why instanceof NotPairedYet)) throw why;
    said.value = why.message;
  }
  await look();
}
