import { describe, expect, it } from 'vitest';
import { cacheControl, developmentHeaders, pagePolicy, securityHeaders } from './headers.ts';

const policyOf = (headers: Readonly<Record<string, string>>) =>
  new Map(
    (headers['Content-Security-Policy'] ?? '').split('; ').map((rule): [string, string[]] => {
      const [name = '', ...values] = rule.split(' ');
      return [name, values];
    }),
  );

describe('When the app is served', () => {
  it('has a source for nothing beyond its own origin', () => {
    const allowed = [...policyOf(securityHeaders)]
      .filter(([name]) => !name.includes('trusted-types'))
      .flatMap(([, values]) => values);
    expect(new Set(allowed)).toEqual(new Set(["'none'", "'self'", "'wasm-unsafe-eval'"]));
  });

  it('compiles WebAssembly and evaluates no text', () => {
    expect(policyOf(securityHeaders).get('script-src')).toEqual(["'self'", "'wasm-unsafe-eval'"]);
  });

  it('says in the page what a page can say', () => {
    const said = pagePolicy.split('; ');
    const sent = (securityHeaders['Content-Security-Policy'] ?? '').split('; ');
    expect(sent.filter((rule) => !said.includes(rule))).toEqual(["frame-ancestors 'none'"]);
  });

  it('lists no permission twice', () => {
    const names = (securityHeaders['Permissions-Policy'] ?? '')
      .split(', ')
      .map((rule) => rule.split('=')[0]);
    expect(names.length).toBe(new Set(names).size);
  });

  it('is looser in development by styles, pictures, socket and trusted types alone', () => {
    const strict = policyOf(securityHeaders);
    const loose = policyOf(developmentHeaders);
    const names = new Set([...strict.keys(), ...loose.keys()]);
    const differing = [...names].filter(
      (name) => strict.get(name)?.join(' ') !== loose.get(name)?.join(' '),
    );
    expect(differing.sort()).toEqual([
      'connect-src',
      'img-src',
      'require-trusted-types-for',
      'style-src',
      'trusted-types',
    ]);
  });

  it.each([
    ['assets/main-Ab12.js', /immutable/],
    ['/assets/means-DBE7.bin', /immutable/],
    ['', /^no-cache$/],
    ['index.html', /^no-cache$/],
    ['service-worker.js', /^no-cache$/],
    ['review/assets/main.js', /^no-cache$/],
  ])('lets %j be kept by %s', (path, rule) => {
    expect(cacheControl(path)).toMatch(rule);
  });
});
