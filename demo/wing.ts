const bed = (number: number, more: object = {}) => ({
  id: `bed-${number}`,
  label: `Bed ${number}`,
  bag: 'demo-bag-2000',
  container: 'demo-graduate-1000',
  weight: null,
  dysreflexiaRisk: false,
  ...more,
});

/**
 * The demo wing: an invented unit with invented beds, staff, vessels and servings.
 *
 * Plain data in the form of a unit's file, without the zone: the demo takes one whose clocks change.
 */
export const wing = {
  schema: 1,
  name: 'Demo wing (invented)',
  beds: [
    bed(11),
    bed(12),
    bed(14, { bag: 'demo-leg-500', dysreflexiaRisk: true }),
    bed(15, { weight: 68 }),
    bed(16),
    bed(17, { container: 'demo-urinal-1000', bag: null }),
  ],
  containers: [
    {
      id: 'demo-graduate-1000',
      label: 'Clear graduate 1000 mL, lines of 25 mL',
      kind: 'graduate',
      capacity: 1000,
      lineStep: 25,
    },
    {
      id: 'demo-graduate-500',
      label: 'Small graduate 500 mL, lines of 50 mL',
      kind: 'graduate',
      capacity: 500,
      lineStep: 50,
      errorPercent: 5,
    },
    {
      id: 'demo-urinal-1000',
      label: 'Demo urinal 1000 mL, lines of 50 mL',
      kind: 'urinal',
      capacity: 1000,
      lineStep: 50,
    },
    {
      id: 'demo-hat-900',
      label: 'Demo hat 900 mL, lines of 50 mL',
      kind: 'hat',
      capacity: 900,
      lineStep: 50,
    },
    {
      id: 'demo-basin-500',
      label: 'Demo basin 500 mL, lines of 50 mL',
      kind: 'basin',
      capacity: 500,
      lineStep: 50,
    },
  ],
  bags: [
    { id: 'demo-bag-2000', label: 'Bedside bag, 2000 mL', kind: 'bedside', capacity: 2000 },
    { id: 'demo-leg-500', label: 'Leg bag, 500 mL', kind: 'leg', capacity: 500 },
    { id: 'demo-pouch-500', label: 'Drainable pouch, 500 mL', kind: 'pouch', capacity: 500 },
  ],
  servings: [
    { id: 'water', label: 'Water, cup', size: 200, kind: 'fluid' },
    { id: 'coffee', label: 'Coffee or tea, cup', size: 200, kind: 'fluid' },
    { id: 'juice', label: 'Juice', size: 120, kind: 'fluid' },
    { id: 'milk', label: 'Milk', size: 240, kind: 'fluid' },
    { id: 'soup', label: 'Soup with solids', size: 120, kind: 'fluid' },
    { id: 'ice-chips', label: 'Ice chips, cup', size: 240, kind: 'ice' },
  ],
  pads: [
    { id: 'demo-brief', label: 'Demo brief', dry: 90 },
    { id: 'demo-bed-pad', label: 'Demo bed pad', dry: 100 },
  ],
  roster: [
    { initials: 'QX', role: 'aide' },
    { initials: 'ZV', role: 'aide' },
    { initials: 'YK', role: 'nurse' },
    { initials: 'XJ', role: 'nurse' },
    { initials: 'WQ', role: 'setup' },
  ],
  plan: {
    shifts: [
      { name: 'day', from: '07:00' },
      { name: 'evening', from: '15:00' },
      { name: 'night', from: '23:00' },
    ],
    dayFrom: '07:00',
  },
  ounceIn: 30,
  rinse: 'afterReading',
  record: 'afterHandsWashed',
  rounding: 'nearest',
  selfReview: false,
  lateAfter: 15,
  findings: {
    severities: {},
    fillMark: 'twoThirds',
    perHourLimit: 30,
    perKgTenths: 5,
    rateHours: 6,
    ownRateTimes: 3,
    ownRateIntervals: 3,
    sameAgainMinutes: 30,
    tolerance: 25,
    ostomyDayLimit: 1500,
  },
  nurse: 'Ask for the demo nurse at the demo desk.',
  ear: 'auto',
  voiceInitials: false,
  dueAfter: 8,
  procedures: [],
} as const;
