// The emergency card: one tap from every screen, before any engine and without any network. It is
// in the page from the first paint, closed, so that opening it calculates nothing.
import { settings } from "../../device/settings";
import { in_demo } from "../../outbox/world";
import { emergency_number, FIRST_AID, type FirstAid } from "./first_aid";
import { left_words, longest_rinse, look_at_clock } from "./rinse";
import { RinseTimer } from "./timer";
import "./style.css";

const CARD = "help";

/** Opens the card over whatever is on the screen; nothing under it is lost. */
function open_help(): void {
  const card = document.getElementById(CARD);
  if (!(card instanceof HTMLDialogElement) || card.open) return;
  look_at_clock();
  card.showModal();
  // The heading takes the focus: on the number, a second press would call.
  document.getElementById(`${CARD}-heading`)?.focus();
}

function close_help(): void {
  const card = document.getElementById(CARD);
  if (card instanceof HTMLDialogElement) card.close();
}

/** Returns the button in the bar of every screen, with the rinse's time left. */
export function HelpButton() {
  const rinse = longest_rinse.value;
  return (
    <button type="button" class="help-button" aria-haspopup="dialog" onClick={open_help}>
      Help
      {rinse && (
        <span class="help-left">
          <span class="unseen">, rinsing, left: </span>
          {left_words(rinse.left_ms)}
        </span>
      )}
    </button>
  );
}

/** Returns the card. */
export function HelpCard() {
  const { profile } = settings.value;
  const call = emergency_number(profile);
  return (
    <dialog id={CARD} class="help" aria-labelledby={`${CARD}-heading`}>
      <header class="help-top">
        <h2 id={`${CARD}-heading`} tabIndex={-1}>
          Help
        </h2>
        {in_demo && <p>Demo day. The steps and the number are real.</p>}
        {profile === "other" && <p>{call}, or your local emergency number</p>}
      </header>
      <div class="help-signs">
        {FIRST_AID.map((aid) => (
          <Sign key={aid.id} aid={aid} call={call} />
        ))}
        <p class="help-bounds">
          First aid in short. A doctor and the emergency line know better than this card.
        </p>
      </div>
      <div class="help-foot">
        <a class="button help-call" href={`tel:${call}`}>
          Call {call}
        </a>
        <button type="button" onClick={close_help}>
          Close
        </button>
      </div>
    </dialog>
  );
}

/** Returns one sign, with its order in sight and the rest under it. */
function Sign({ aid, call }: { aid: FirstAid; call: string }) {
  return (
    <details
      name="first-aid"
      class="help-sign"
      onToggle={({ currentTarget }) => {
        if (currentTarget.open) currentTarget.scrollIntoView({ block: "start" });
      }}
    >
      <summary>
        <span class="help-words">
          <span>{aid.sign}</span>
          <strong>{aid.order(call)}</strong>
        </span>
      </summary>
      <div class="help-inside">
        {aid.rinse && <RinseTimer what={aid.rinse} />}
        <ol>
          {aid.steps.map((step) => (
            <li key={step}>{step}</li>
          ))}
        </ol>
        <div class="help-sources">
          <p>Sources</p>
          <ul>
            {aid.sources.map(({ title, where, checked }) => (
              <li key={title}>
                {title} ({where}){!checked && ": not yet checked against the primary text"}
              </li>
            ))}
          </ul>
        </div>
      </div>
    </details>
  );
}
