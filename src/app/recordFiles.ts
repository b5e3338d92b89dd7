import type { Span } from '../charting/shifts.ts';

/** What a file is to hold: a span, of one bed or of all. */
export interface FileScope {
  readonly span: Span;
  readonly bed: string | null;
  /** The day, for the file's name: `2026-11-24`. */
  readonly date: string;
}

/** A file on its way to the person. */
export interface HandedFile {
  readonly name: string;
  readonly content: Blob;
}

/** Told while long work goes on. */
export interface Doing {
  /** @param all - null while it is not known */
  readonly onprogress: (done: number, all: number | null) => void;
  readonly signal: AbortSignal;
}

/** What became of work on files; `why` is a sentence that can be shown. */
export type FileOutcome<T> =
  | { readonly outcome: 'done'; readonly value: T }
  | { readonly outcome: 'stopped' }
  | { readonly outcome: 'failed'; readonly why: string };

export interface Restored {
  readonly added: number;
  /** Events that were here already. */
  readonly known: number;
}

export type FhirMode = 'create' | 'update';

/** The record as files. Nothing is sent: a file goes to the person, or comes from them. */
export interface RecordFiles {
  /**
   * @param mode - `create` adds what the receiver has not; `update` also brings entries that it has in
   *   an earlier version up to date. Either may be handed over twice.
   */
  fhir(scope: FileScope, doing: Doing, mode: FhirMode): Promise<FileOutcome<HandedFile>>;
  csv(scope: FileScope, doing: Doing): Promise<FileOutcome<HandedFile>>;
  backup(doing: Doing): Promise<FileOutcome<HandedFile>>;
  restore(file: Blob, doing: Doing): Promise<FileOutcome<Restored>>;
}
