// When the salon's records were last backed up: quiet while it is well, loud after three days.
import { useEffect, useState } from "preact/hooks";
import { type LastBackup, last_backup } from "../../courier/backup";
import { date_words } from "../../device/when";
import { time_of_day } from "../../parts/words";

const ASK_AGAIN_MS = 600_000;

/** Returns one line; nothing until the server said it. */
export function Backup() {
  const [last, put_last] = useState<LastBackup>();
  useEffect(() => {
    const ask = async () => {
      const said = await last_backup(Date.now());
      if (said) put_last(said);
    };
    void ask();
    const again = setInterval(() => void ask(), ASK_AGAIN_MS);
    return () => clearInterval(again);
  }, []);
  if (!last) return null;
  const { at, old, failed } = last;
  const when = at ? `${date_words(at)}, ${time_of_day(Date.parse(at))}` : "none yet";
  if (failed || old) {
    return (
      <p class="desk-old" role="alert">
        <strong>Last backup: {when}.</strong> {failed || "It is three days old or more."} A disk
        that breaks now takes what came since. Leave the salon’s computer on: it tries again.
      </p>
    );
  }
  if (!at) return <p class="quiet">No backup yet. The salon’s computer makes the first soon.</p>;
  return <p class="quiet">Backed up {when}, and proven to come back.</p>;
}
