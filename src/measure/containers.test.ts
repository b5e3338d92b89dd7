import { expect, test } from 'vitest';
import { defaultContainers } from './containers.ts';

test.each(defaultContainers.map(({ item }) => [item.id, item] as const))(
  '%s ends at a line, and is named as it is drawn',
  (id, { kind, capacity, lineStep, label }) => {
    expect(capacity % lineStep).toBe(0);
    expect(capacity / lineStep).toBeGreaterThan(1);
    expect(id).toBe(`${kind}-${capacity}-${lineStep}`);
    expect(label).toContain(`${capacity} mL`);
  },
);
