// Takes the place of a record that this phone does not have: says so, and shows a way on.

interface AbsentProps {
  /** The missing record: "client", "formula". */
  what: string;
  href: string;
  way: string;
}

/** Returns the sentence and the way on. */
export function Absent({ what, href, way }: AbsentProps) {
  return (
    <div class="stack">
      <p>{`This ${what} is not on this phone.`}</p>
      <a class="button" href={href}>
        {way}
      </a>
    </div>
  );
}
