import { eightHourShifts } from '../charting/shifts.ts';
import { defaultBags } from '../measure/bags.ts';
import { defaultContainers } from '../measure/containers.ts';
import { defaultFindingSettings } from '../measure/findings.ts';
import { defaultPads } from '../measure/pads.ts';
import { defaultServings } from '../measure/servings.ts';
import { usualLateAfter } from './recordSettings.ts';
import { deviceZone } from './temporal.ts';
import { usualDueKinds, type Unit } from './unit.ts';

const { severities, rounding, ...limits } = defaultFindingSettings;

/** What a unit starts from before anybody set it up: invented beds, initials, and plausible vessels. */
export const defaultUnit: Unit = {
  schema: 1,
  name: 'New unit',
  beds: Array.from({ length: 6 }, (_, index) => ({
    id: `bed-${index + 1}`,
    label: `Bed ${index + 1}`,
    bag: 'bedside-2000',
    container: 'graduate-1000-25',
    weight: null,
    dysreflexiaRisk: false,
  })),
  containers: defaultContainers.map(({ item }) => ({ ...item })),
  bags: defaultBags.map(({ item }) => ({ ...item })),
  servings: defaultServings.map(({ item }) => ({ ...item })),
  // Invented: each unit weighs its own products dry.
  pads: defaultPads.map(({ item }) => ({ ...item })),
  roster: [
    { initials: 'MK', role: 'aide' },
    { initials: 'TS', role: 'aide' },
    { initials: 'JP', role: 'nurse' },
    { initials: 'LW', role: 'nurse' },
    { initials: 'BO', role: 'setup' },
  ],
  plan: {
    zone: deviceZone(),
    shifts: [...eightHourShifts],
    dayFrom: '07:00',
  },
  ounceIn: 30,
  rinse: 'afterReading',
  record: 'afterHandsWashed',
  rounding,
  selfReview: false,
  lateAfter: usualLateAfter / 60_000,
  findings: { severities: { ...severities }, ...limits },
  nurse: '',
  ear: 'auto',
  voiceInitials: false,
  dueAfter: 8,
  dueKinds: [...usualDueKinds],
  procedures: [],
};
