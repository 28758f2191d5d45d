import { inflateSync } from 'node:zlib';

/** What stands on a sheet of a PDF as Chromium writes it. Units: points. */
interface PdfSheet {
  readonly size: readonly [number, number];
  /** Lines of text, by their baselines. */
  readonly lines: number;
  readonly hasPicture: boolean;
}

const text = (pdf: Buffer): string => pdf.toString('latin1');

/** Returns what an object of a PDF holds as a stream, unpacked. */
function streamOf(pdf: Buffer, id: string): string {
  const head = new RegExp(`(?:^|\\n)${id} 0 obj\\s*<<([\\s\\S]*?)>>\\s*stream\\r?\\n`).exec(text(pdf));
  if (head === null) throw new Error(`The PDF has no stream ${id}.`);
  const from = head.index + head[0].length;
  const length = Number(/\/Length (\d+)/.exec(head[1]!)![1]);
  return inflateSync(pdf.subarray(from, from + length)).toString('latin1');
}

/**
 * Returns the sheets in their order.
 * Source: ISO 32000-1, 7.7.3.3 (page objects) and 9.4.2 (a text line begins where Tm puts it), 8.8 (Do paints a picture).
 */
export function pdfSheets(pdf: Buffer): PdfSheet[] {
  return [...text(pdf).matchAll(/\d+ 0 obj\s*<<([\s\S]*?)>>\s*(?:stream|endobj)/g)]
    .map(([, body]) => body!)
    .filter((body) => /\/Type\s*\/Page\b/.test(body))
    .map((body) => {
      const [, width, height] = /\/MediaBox\s*\[0 0 ([\d.]+) ([\d.]+)\]/.exec(body)!;
      const drawn = streamOf(pdf, /\/Contents (\d+) 0 R/.exec(body)![1]!);
      const baselines = new Set([...drawn.matchAll(/(-?[\d.]+) Tm\b/g)].map(([, y]) => y));
      return {
        size: [Number(width), Number(height)],
        lines: baselines.size,
        hasPicture: /\/\w+ Do\b/.test(drawn),
      };
    });
}
