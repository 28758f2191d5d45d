/** Prefixes and what they stand for, from an element that declares them to its end. */
interface NamespaceScope {
  readonly depth: number;
  readonly uris: ReadonlyMap<string, string>;
  readonly outer: NamespaceScope | null;
}

const NONE: string[] = [];

/** Returns an element's name without its prefix. */
export const localName = (name: string): string => name.slice(name.indexOf(':') + 1);

/**
 * Follows which namespace each element of a document is in. The tokeniser can do it too, at more than the price of all its
 * other work: it makes an object of every attribute and looks every name up in every open element.
 *
 * Source: Namespaces in XML 1.0, 3 (declarations), 5 (scope; the default does not reach attributes), 6.
 */
export class XmlNamespaces {
  /** Prefixes that were used and not declared: some exporters forget it. */
  readonly undeclared = new Set<string>();
  #depth = 0;
  #scope: NamespaceScope = {
    depth: 0,
    uris: new Map([
      ['', ''],
      ['xml', 'http://www.w3.org/XML/1998/namespace'],
      ['xmlns', 'http://www.w3.org/2000/xmlns/'],
    ]),
    outer: null,
  };

  /** Takes the next element and returns its namespace, `undeclared:PREFIX` where its prefix stands for none. */
  open(name: string, attributes: Readonly<Record<string, string>>): string {
    this.#depth += 1;
    const prefixed = this.#declare(attributes);
    for (const prefix of prefixed) this.#uriOf(prefix);
    return this.#uriOf(name.slice(0, Math.max(0, name.indexOf(':'))));
  }

  close(): void {
    if (this.#scope.depth === this.#depth && this.#scope.outer) this.#scope = this.#scope.outer;
    this.#depth -= 1;
  }

  /** Returns the prefixes of the attributes, once what they declare is in force. */
  #declare(attributes: Readonly<Record<string, string>>): readonly string[] {
    let prefixes: string[] = NONE;
    let declared: Map<string, string> | null = null;
    for (const attribute in attributes) {
      const colon = attribute.indexOf(':');
      if (attribute === 'xmlns' || (colon === 5 && attribute.startsWith('xmlns'))) {
        declared ??= new Map();
        declared.set(attribute.slice(6), attributes[attribute]!.trim());
      } else if (colon > 0) {
        prefixes = [...prefixes, attribute.slice(0, colon)];
      }
    }
    if (declared) this.#scope = { depth: this.#depth, uris: declared, outer: this.#scope };
    return prefixes;
  }

  #uriOf(prefix: string): string {
    for (let scope: NamespaceScope | null = this.#scope; scope; scope = scope.outer) {
      const uri = scope.uris.get(prefix);
      if (uri !== undefined) return uri;
    }
    this.undeclared.add(prefix);
    return `undeclared:${prefix}`;
  }
}
