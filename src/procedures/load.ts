import * as v from 'valibot';
import { checkProcedure } from './check.ts';
import { fault, type Fault } from './fault.ts';
import { jsonLines } from './jsonLines.ts';
import { procedureSchema, type Procedure } from './schema.ts';

/** A procedure that may be walked, or everything that is wrong with it; never a part of one. */
export type Loaded =
  | { readonly ok: true; readonly procedure: Procedure }
  | { readonly ok: false; readonly faults: readonly Fault[] };

/** The longest procedure file that is read, in characters. */
export const longestFile = 200_000;

/** Read a procedure file: each fault comes with its line. */
export function loadProcedure(text: string): Loaded {
  if (text.length > longestFile) return refused([fault('wrong_form', '', 'too long')]);
  const lines = jsonLines(text);
  if ('brokenAt' in lines)
    return { ok: false, faults: [{ ...fault('not_json', ''), line: lines.brokenAt }] };
  const loaded = procedureOf(JSON.parse(text));
  const repeated = lines.repeated.map((path) => fault('repeated_key', path, path));
  if (loaded.ok && repeated.length === 0) return loaded;
  const faults = [...repeated, ...(loaded.ok ? [] : loaded.faults)];
  return refused(
    faults
      .map((each) => ({ ...each, line: lines.lineOf(each.path) }))
      .sort((one, other) => one.line - other.line),
  );
}

/** Check data that was parsed already, from a file or a backup. Never throws. */
export function procedureOf(data: unknown): Loaded {
  const parsed = v.safeParse(procedureSchema, data);
  if (!parsed.success)
    return refused(
      parsed.issues.map((issue) => fault('wrong_form', v.getDotPath(issue) ?? '', issue.message)),
    );
  const faults = checkProcedure(parsed.output);
  return faults.length === 0 ? { ok: true, procedure: parsed.output } : refused(faults);
}

function refused(faults: readonly Fault[]): Loaded {
  return { ok: false, faults };
}
