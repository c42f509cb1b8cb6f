// Takes the place of a client's grams while something holds the client.

interface KeptBackProps {
  /** Whose grams they are. */
  name: string;
  /** While the rules have not answered, they stay hidden too. */
  asking: boolean;
  /** Where it says what holds. */
  href: string;
  /** Shows what went on a head once: it is a record, and no mix for today. */
  onShow?: () => void;
}

/** Returns why no grams show, with the way to what holds. */
export function KeptBack({ name, asking, href, onShow }: KeptBackProps) {
  if (asking) return <p role="status">Asking the safety rules before any grams show…</p>;
  return (
    <div class="stack">
      <p>
        <strong>{name} is held.</strong> No grams show until nothing holds {name}.
      </p>
      <a class="button not-printed" href={href}>
        See what holds
      </a>
      {onShow && (
        <>
          <p>What was used on an earlier day is no mix for today.</p>
          <button type="button" class="not-printed" onClick={onShow}>
            Show what was used
          </button>
        </>
      )}
    </div>
  );
}
