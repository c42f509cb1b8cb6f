// The way to the demo day from a phone that has records of its own.
import { remove_demo } from "../../demo/leave";
import { use_demo } from "../../demo/open";
import { in_demo } from "../../outbox/world";

/** Returns the part: how to open the demo day, or how to remove it. */
export function DemoDay() {
  const [said, open] = use_demo();
  return (
    <div class="stack" id="demo">
      <h3>The demo day</h3>
      {in_demo ? (
        <>
          <p>These people are invented. Your own records, pairing and files come back after it.</p>
          <button type="button" onClick={remove_demo}>
            Remove the demo day
          </button>
        </>
      ) : (
        <>
          <p>A Saturday in an invented salon, to try everything on. Your records stay apart.</p>
          <button type="button" onClick={open}>
            Open the demo day
          </button>
          {said && <p role="alert">{said}</p>}
        </>
      )}
    </div>
  );
}
