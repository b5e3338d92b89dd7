/** Words of the frame around the screens. */
export const shell = {
  name: 'Gloveside',
  places: {
    bedside: 'Bedside',
    practice: 'Practice',
    review: 'Review',
    sheet: 'Sheet',
    handover: 'Handover',
    unit: 'Unit',
  },
  signedIn: 'Signed in',
  loading: 'One moment …',
  failed:
    'This page could not be loaded. Look whether the device has a network, then load it again.',
  reload: 'Load it again',
  opening: 'Opening the record …',
  skip: 'To the content',
} as const;
