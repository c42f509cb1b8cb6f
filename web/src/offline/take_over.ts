/** The page's message to the waiting service worker, once the person has tapped "Update". */
export const TAKE_OVER = "take over";
