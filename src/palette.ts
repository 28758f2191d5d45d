/** Colours, type and corners: the one source of pages, mails and the icon. */

interface Palette {
  readonly paper: string;
  readonly ink: string;
  /** Text beside the matter. */
  readonly soft: string;
  /** A line that only parts; what must be seen has an edge. */
  readonly rule: string;
  /** What a control ends with. */
  readonly edge: string;
  readonly wash: string;
  /** The one colour, of links and buttons; no state is told by it. */
  readonly accent: string;
  readonly onAccent: string;
}

export const LIGHT: Palette = {
  paper: '#fbfaf6',
  ink: '#1e2120',
  soft: '#565b58',
  rule: '#d8d5ca',
  edge: '#7b7f7a',
  wash: '#f2f0e8',
  accent: '#0d5560',
  onAccent: '#ffffff',
};

export const DARK: Palette = {
  paper: '#15181a',
  ink: '#e8e6df',
  soft: '#a9ada8',
  rule: '#34393b',
  edge: '#83898a',
  wash: '#1d2123',
  accent: '#8ccbd3',
  onAccent: '#10282c',
};

export const TEXT_TYPE = "system-ui,-apple-system,'Segoe UI',Roboto,'Liberation Sans',Arial,sans-serif";
export const HEAD_TYPE = "Charter,'Bitstream Charter','Sitka Text',Cambria,'Liberation Serif',Georgia,serif";

/** How round a corner is. */
export const CORNER = '3px';
