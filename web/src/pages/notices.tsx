// The page's own news, quietly: a new version, an emptied phone, a moved clock.
import type { JSX } from "preact";
import { remove_demo } from "../demo/leave";
import { type Move, move_to_say, move_words, settle_move } from "../device/clock_moves";
import { ask_leave, asks_leave, leave_it } from "../device/notifications";
import { busy, reload, take_update, type Update, update } from "../offline/bridge";
import { loss, take_note_of_loss } from "../offline/storage";
import { in_demo } from "../outbox/world";
import { place } from "../place";
import { all, operations_put_back } from "../records/read";
import { clock_runs } from "../salon/service/running";
import "./notices.css";

/** Returns the notices there are; nothing if all is as it was. */
export function Notices() {
  return (
    <>
      {in_demo && place.value.name === "today" && (
        <Notice
          words="Try anything. Nothing is sent."
          tap="Remove the demo day"
          onTap={remove_demo}
        />
      )}
      {loss.value && (
        <Notice words={loss_words(loss.value)} tap="I have read this" onTap={take_note_of_loss} />
      )}
      {update.value !== "none" && <NewVersion now={update.value} />}
      {move_to_say.value && <ClockMoved move={move_to_say.value} />}
      {place.value.name === "today" && asks_leave() && !clock_runs.value && <MayNotify />}
    </>
  );
}

function ClockMoved({ move }: { move: Move }) {
  if (move.by_ms < 0) {
    return (
      <Notice
        words={move_words(move)}
        tap="I have read this"
        onTap={() => settle_move(move, true)}
      />
    );
  }
  return (
    <div class="page-notice" role="status">
      <p>{move_words(move)}</p>
      <button type="button" onClick={() => settle_move(move, false)}>
        The phone slept
      </button>
      <button type="button" onClick={() => settle_move(move, true)}>
        The clock was moved
      </button>
    </div>
  );
}

/** Asked once a service is planned, while hands are bare; with gloves on it would be in the way. */
function MayNotify() {
  if (all("service").value.length === 0) return null;
  return (
    <section class="page-notice may-notify" aria-label="Notifications">
      <p>Basinside can ring while you use another app.</p>
      <button type="button" onClick={() => void ask_leave()}>
        Allow notifications
      </button>
      <button type="button" onClick={leave_it}>
        Leave it
      </button>
    </section>
  );
}

function NewVersion({ now }: { now: Update }) {
  const waits_for = busy.value[0];
  if (now === "taking") return <Notice words="Loading the new version." />;
  if (now === "stuck") {
    return (
      <Notice words="The new version did not start. Close every window of Basinside, then open it again." />
    );
  }
  if (now === "taken elsewhere") {
    if (waits_for)
      return <Notice words={`Another window runs a new version. ${waits(waits_for)}`} />;
    return <Notice words="Another window runs a new version." tap="Load it here" onTap={reload} />;
  }
  if (waits_for) return <Notice words={`A new version is ready. ${waits(waits_for)}`} />;
  return (
    <Notice
      words={
        now === "held"
          ? "A new version is ready. Another window has a running clock or unsaved text."
          : "A new version is ready."
      }
      tap={now === "held" ? "Try again" : "Update"}
      onTap={take_update}
    />
  );
}

function waits(why: string): string {
  return `It waits: ${why}.`;
}

interface NoticeProps {
  words: string;
  tap?: string;
  onTap?: () => unknown;
}

function Notice({ words, tap, onTap }: NoticeProps): JSX.Element {
  return (
    <div class="page-notice" role="status">
      <p>{words}</p>
      {tap && (
        <button type="button" onClick={() => void onTap?.()}>
          {tap}
        </button>
      )}
    </div>
  );
}

function loss_words({ what, since }: { what: "database" | "settings"; since: string }): string {
  const day = new Date(since).toLocaleDateString();
  if (what === "database" && operations_put_back.value > 0) {
    return `The browser lost its database, with everything since ${day}. The second copy on this device gave back ${operations_put_back.value} entries.`;
  }
  return what === "database"
    ? `This device’s records were emptied. Everything in the browser’s database since ${day} is gone. Settings and your last entries are still here.`
    : `This device’s settings were emptied. Settings and last entries since ${day} are gone. Records in the browser’s database are still here.`;
}
