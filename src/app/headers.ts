/** Where each kind of content may come from: our own origin, or nowhere. */
const sources: Readonly<Record<string, string>> = {
  'default-src': "'none'",
  // Both engines are WebAssembly; this allows to compile it, and no `eval` of text.
  'script-src': "'self' 'wasm-unsafe-eval'",
  'style-src': "'self'",
  'img-src': "'self'",
  'connect-src': "'self'",
  'worker-src': "'self'",
  'manifest-src': "'self'",
  'base-uri': "'none'",
  'form-action': "'none'",
};

/** Text becomes markup only through Svelte's templates, and an address a script only through ours. */
const trustedTypes = {
  'require-trusted-types-for': "'script'",
  'trusted-types': 'default svelte-trusted-html',
} as const;

const written = (policy: Readonly<Record<string, string>>): string =>
  Object.entries(policy)
    .map(([name, value]) => `${name} ${value}`)
    .join('; ');

/** The content policy as it stands in the page itself, for hosts that send no headers of ours. */
export const pagePolicy = written({ ...sources, ...trustedTypes });

/** What a page may ask of the device, beside what no browser asks about. */
const granted = [
  'microphone',
  'screen-wake-lock',
  'on-device-speech-recognition',
  // The voice speaks without a tap, also behind a dimmed screen.
  'autoplay',
  'media-playback-while-not-visible',
  'cross-origin-isolated',
];

const refused = [
  ...['accelerometer', 'aria-notify', 'browsing-topics', 'camera', 'captured-surface-control'],
  ...['clipboard-read', 'clipboard-write', 'compute-pressure', 'deferred-fetch'],
  ...['deferred-fetch-minimal', 'digital-credentials-create', 'digital-credentials-get'],
  ...['display-capture', 'encrypted-media', 'fullscreen', 'gamepad', 'geolocation', 'gyroscope'],
  ...['hid', 'identity-credentials-get', 'idle-detection', 'interest-cohort', 'keyboard-map'],
  ...['language-detector', 'language-model', 'local-fonts', 'local-network'],
  ...['local-network-access', 'loopback-network', 'magnetometer', 'midi', 'otp-credentials'],
  ...['payment', 'picture-in-picture', 'private-state-token-issuance'],
  ...['private-state-token-redemption', 'publickey-credentials-create'],
  ...['publickey-credentials-get', 'serial', 'speaker-selection', 'storage-access', 'summarizer'],
  ...['sync-xhr', 'translator', 'unload', 'usb', 'window-management', 'xr-spatial-tracking'],
];

const permissions = [
  ...granted.map((feature) => `${feature}=(self)`),
  ...refused.map((feature) => `${feature}=()`),
].join(', ');

/**
 * The headers that every answer of the server bears.
 *
 * @see https://www.w3.org/TR/CSP3/ and https://www.w3.org/TR/permissions-policy/
 */
export const securityHeaders: Readonly<Record<string, string>> = {
  'Content-Security-Policy': `${pagePolicy}; frame-ancestors 'none'`,
  'Permissions-Policy': permissions,
  'Referrer-Policy': 'no-referrer',
  'Cross-Origin-Opener-Policy': 'same-origin',
  'Cross-Origin-Embedder-Policy': 'require-corp',
  'Cross-Origin-Resource-Policy': 'same-origin',
  'X-Content-Type-Options': 'nosniff',
};

/**
 * The same for the development server, which styles the page by script, reloads it over a socket
 * and knows nothing of trusted types.
 */
export const developmentHeaders: Readonly<Record<string, string>> = {
  ...securityHeaders,
  'Content-Security-Policy': written({
    ...sources,
    'style-src': "'self' 'unsafe-inline'",
    'img-src': "'self' data:",
    'connect-src': "'self' ws:",
    'frame-ancestors': "'none'",
  }),
};

/** How long a browser may keep a file: one with a hash in its name for ever, any other not unasked. */
export const cacheControl = (path: string): string =>
  /^\/?assets\//.test(path) ? 'public, max-age=31536000, immutable' : 'no-cache';
