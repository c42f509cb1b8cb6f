/** What the page tells the service worker that waits, once the person has tapped "Update". */
export const TAKE_OVER = "take over";
