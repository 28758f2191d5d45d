import type { LIGHT } from '../../palette.js';

/** What is printed is black on white, whatever the screen's colours are. */
export const INK_ON_WHITE: typeof LIGHT = {
  ...{ paper: '#fff', ink: '#000', soft: '#000', rule: '#999' },
  ...{ edge: '#000', wash: '#fff', accent: '#000', onAccent: '#fff' },
};

/** Returns colours as custom properties, each under its own name. */
export const propertiesOf = (colours: typeof LIGHT): string =>
  Object.entries(colours)
    .map(([name, colour]) => `--${name.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`)}:${colour}`)
    .join(';');
