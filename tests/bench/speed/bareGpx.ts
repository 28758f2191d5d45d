import { SampleColumns } from '../../../src/files/sampleColumns.js';
import { dateTimeOf, decimalOf } from '../../../src/files/xml/xmlValues.js';

/**
 * Takes the numbers out of GPX by looking for its words, and returns how many points it found. It is no reader: comments,
 * namespaces, entities, broken text, all would lead it astray. It shows how little a reader without a tokeniser could take.
 */
export function bareGpx(bytes: Uint8Array): number {
  const text = new TextDecoder().decode(bytes);
  const columns = new SampleColumns();
  const attribute = (name: string, from: number, to: number): string => {
    const at = text.indexOf(name, from) + name.length;
    return at < from + name.length || at > to ? '' : text.slice(at + 1, text.indexOf(text[at]!, at + 1));
  };
  const element = (name: string, from: number, to: number): string => {
    const at = text.indexOf(name, from) + name.length;
    return at < from + name.length || at > to ? '' : text.slice(at, text.indexOf('<', at));
  };
  for (let from = text.indexOf('<trkpt'); from >= 0; from = text.indexOf('<trkpt', from + 1)) {
    const inside = text.indexOf('>', from);
    const to = text.indexOf('</trkpt>', inside);
    columns.push(
      dateTimeOf(element('<time>', inside, to)).ms,
      decimalOf(attribute('lat=', from, inside)),
      decimalOf(attribute('lon=', from, inside)),
      decimalOf(element('<ele>', inside, to)),
      Number.NaN,
      Number.NaN,
    );
  }
  return columns.count;
}
