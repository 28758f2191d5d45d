/** So many weeks of the bench are shown where nobody says how many. */
export const WEEKS_SHOWN = 8;
