import { SaxesParser } from 'saxes';
import type { NoteCounter } from '../../core/ground/samples/notes.js';
import { ENTITIES_MESSAGE } from '../fileContent.js';
import { TooManySamples } from '../sampleColumns.js';
import { localName, XmlNamespaces } from './xmlNamespaces.js';

const DEEPEST = 64;
/** Nothing in a sound file is longer: a name, a comment, a track point without its end. Units: characters. */
const LONGEST_PIECE = 1_000_000;

/** Why reading stopped before the end: refused for what it does, or no further to be understood. */
export interface Stopped {
  readonly why: 'entities' | 'nested' | 'endless' | 'broken';
}

/** What is told of a file that was stopped before anything of it could be used. */
export const STOPPED: Readonly<Record<Stopped['why'], readonly [code: string, message: string]>> = {
  entities: ['xml-entities', ENTITIES_MESSAGE],
  nested: ['unreadable', 'The file is nested deeper than any ride file. Export it again.'],
  endless: [
    'unreadable',
    'The file holds a value of a million characters, which no ride file does. Export it again.',
  ],
  broken: [
    'unreadable',
    'The file is cut off or its XML is broken before the first track point. Export it again.',
  ],
};

type Attributes = Readonly<Record<string, string>>;

/** Reads an XML file piece by piece within bounds: what its elements mean is its heirs' to say. */
export abstract class XmlReader {
  /** Whether the root element was closed: all after it is no part of the file. */
  complete = false;
  /** How deep the open element lies; the root is 1. */
  protected depth = 0;
  readonly #parser = new SaxesParser<{ xmlns?: false; position: false }>({ position: false });
  readonly #namespaces = new XmlNamespaces();
  #sinceTag = 0;

  constructor(protected readonly notes: NoteCounter) {
    this.#parser.on('opentag', ({ name, attributes }) => this.#open(name, attributes));
    this.#parser.on('closetag', () => this.#close());
    this.#parser.on('text', (text) => this.take(text));
    this.#parser.on('cdata', (text) => this.take(text));
    this.#parser.on('doctype', () => stop('entities'));
  }

  /** An element begins, at `depth`. */
  protected abstract open(local: string, uri: string, attributes: Attributes): void;
  protected abstract take(text: string): void;
  /** The element at `depth` ends. */
  protected abstract close(): void;
  /** Nothing more comes, whether the file ended or broke off. */
  protected abstract end(): void;

  /** Returns why reading stopped, or null at the end of the file. Errors: TooManySamples. */
  readAll(chunks: Iterable<string>): Stopped | null {
    try {
      for (const chunk of chunks) {
        this.#sinceTag += chunk.length;
        if (this.#sinceTag > LONGEST_PIECE) stop('endless');
        this.#parser.write(chunk);
      }
      this.#parser.close();
      return null;
    } catch (error) {
      if (error instanceof TooManySamples) throw error;
      if (error instanceof StopReading) return { why: error.why };
      return {
        why: error instanceof Error && error.message.includes('undefined entity') ? 'entities' : 'broken',
      };
    } finally {
      this.end();
      this.notes.add('prefix-undeclared', this.#namespaces.undeclared.size);
    }
  }

  #open(name: string, attributes: Attributes): void {
    this.#sinceTag = 0;
    this.depth += 1;
    if (this.depth > DEEPEST) stop('nested');
    this.open(localName(name), this.#namespaces.open(name, attributes), attributes);
  }

  #close(): void {
    this.#sinceTag = 0;
    this.close();
    this.#namespaces.close();
    this.depth -= 1;
    if (this.depth === 0) this.complete = true;
  }
}

class StopReading extends Error {
  constructor(readonly why: Stopped['why']) {
    super(why);
  }
}

function stop(why: Stopped['why']): never {
  throw new StopReading(why);
}
