import { isFields, type Action, type Fields, type Value } from './compileTag.ts';

/** What one way through a rule has gathered. */
export interface Gathered {
  /** Null until a tag sets a part. */
  fields: Fields | null;
  /** Whether no one else holds the fields, so that they may be changed in place. */
  isOwn: boolean;
}

const noFields = {};

/** Run a tag on what was gathered; false where its condition fails. */
export function runTag(action: Action, now: Gathered, last: Value, given: Fields): boolean {
  if (action.kind === 'test') return action.run((now.fields ?? noFields) as never, last, given);
  if (action.kind === 'take' && (now.fields === null || !isFields(last))) {
    // A value is never changed once made, so it need not be copied.
    now.fields = isFields(last) ? last : now.fields;
    now.isOwn &&= !isFields(last);
    return true;
  }
  if (!now.isOwn) {
    now.fields = now.fields === null ? {} : copyOf(now.fields);
    now.isOwn = true;
  }
  return action.run(now.fields as Record<string, Value>, last, given);
}

/** The value of a rule: `out`, else the parts set, else the value of what it named last. */
export const valueOf = (fields: Fields | null, last: Value): Value =>
  fields === null ? last : 'out' in fields ? fields.out : fields;

/** By hand, for fields come in more shapes than a spread is quick with. */
function copyOf(fields: Fields): Fields {
  const copy: Record<string, Value> = {};
  for (const name in fields) copy[name] = fields[name];
  return copy;
}
