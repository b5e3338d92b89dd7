/** Words of the frame around the screens. */
export const shell = {
  name: 'Gloveside',
  places: {
    bedside: 'Bedside',
    practice: 'Practice',
    review: 'Review',
    sheet: 'Sheet',
    unit: 'Unit',
  },
  signedIn: 'Signed in',
  opening: 'Opening the record …',
  skip: 'To the content',
} as const;
