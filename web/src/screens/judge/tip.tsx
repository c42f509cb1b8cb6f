// A piece of advice at the moment it helps, until somebody never wants to see it again.
import { kept } from "../../device/kept";

/** The pieces of advice that somebody never wants to see again. */
const tips_put_away = kept<string[]>("tips_put_away", []);

/** Returns the advice, or nothing once it was put away for good. */
export function Tip({ name, words }: { name: string; words: string }) {
  if (tips_put_away.value.includes(name)) return null;
  return (
    <div class="judge-tip">
      <p>{words}</p>
      <button
        type="button"
        onClick={() => {
          tips_put_away.value = [...tips_put_away.value, name];
        }}
      >
        I know this
      </button>
    </div>
  );
}
