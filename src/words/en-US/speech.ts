/** Which ear listens and why, and what the tones and lights of the ear mean. */
export const speech = {
  reasons: {
    unit_types: 'Words are typed: the unit has set it so.',
    unit_allows_remote:
      'The browser’s engine listens. Sound leaves this device and goes to the maker of the browser; the unit has allowed it.',
    browser_stays_local: 'The browser’s own engine listens. It promises that sound stays here.',
    browser_promises_nothing:
      'The ear inside this app listens. This browser does not promise that sound stays here; the ear does.',
    browser_could_install:
      'The ear inside this app listens. This browser has an engine of its own that could be installed for this device.',
    unit_wants_bundled: 'The ear inside this app listens: the unit has set it so.',
    no_microphone: 'There is no microphone, so words are typed.',
  },
  remoteWarning:
    'With the remote engine, what is said near this device is sent to the maker of the browser to be recognized. Switch it on only if your facility has agreed to that.',
  install: {
    offer: 'Install the browser’s engine for this device',
    asked: 'The browser installs its engine. This may take some minutes.',
    installed: 'Installed. It listens from the next walk on.',
    refused: 'The browser did not install it. The ear inside this app goes on listening.',
  },
} as const;
