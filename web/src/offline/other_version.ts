/** The status of the service worker's answer where the server has another version's engine. */
export const OTHER_VERSION = 410;
