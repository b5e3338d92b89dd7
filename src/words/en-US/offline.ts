/** Words about new versions, and about opening without a network. */
export const offline = {
  label: 'This app',
  renewal: {
    waiting: 'A new version of this app is ready.',
    walking: 'A new version is ready. It waits until this walk is over.',
    refused:
      'The new version still waits: a walk is not finished, here or in another window of this app.',
    elsewhere: 'This app was renewed in another window. This window still runs the version before.',
  },
  apply: 'Open the new version',
  notKept:
    'The app could not be kept on this device, so it does not open without a network. It tries again at the next start.',
} as const;
