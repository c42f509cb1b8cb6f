// Fetches the page's files several at a time, where Workbox keeps them one after the other.
const AT_ONCE = 6;

/**
 * Resolves once the browser's own cache holds the files that are named by their content.
 *
 * Workbox then finds them there: a file a round trip would take a minute on a slow link. A file that
 * does not come is left to Workbox, which says so.
 */
export async function fetch_together(
  files: readonly { url: string; revision: string | null }[],
): Promise<void> {
  const waiting = files.filter(({ revision }) => revision === null).map(({ url }) => url);
  const fetch_next = async () => {
    for (let url = waiting.shift(); url; url = waiting.shift()) {
      const response = await fetch(url, { credentials: "same-origin" }).catch(() => undefined);
      await response?.arrayBuffer().catch(() => undefined);
    }
  };
  await Promise.all(Array.from({ length: AT_ONCE }, fetch_next));
}
