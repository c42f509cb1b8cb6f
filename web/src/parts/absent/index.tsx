// What stands where a record should be that this phone does not have: that it is so, and a way on.

interface AbsentProps {
  /** What is missing: "client", "formula". */
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
