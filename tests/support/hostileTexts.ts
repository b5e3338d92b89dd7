/** What an attacker wants to happen: the page notes it, if it ever does. */
const run = 'ran(1)';

const markup = [
  `<script>${run}</script>`,
  `</script><script>${run}</script>`,
  `<img src=x onerror=${run}>`,
  `<img src=x onerror="${run}" alt=">`,
  `"><img src=x onerror=${run}>`,
  `'><svg onload=${run}>`,
  `<svg><script>${run}</script></svg>`,
  `<svg><animate onbegin=${run} attributeName=x dur=1s>`,
  `<math><mtext></p><img src=x onerror=${run}>`,
  `<body onload=${run}>`,
  `<details open ontoggle=${run}>`,
  `<input autofocus onfocus=${run}>`,
  `<iframe srcdoc="<script>parent.${run}</script>">`,
  `<a href="javascript:${run}">x</a>`,
  `<form action="javascript:${run}"><button>`,
  `<style>*{background:url(//x.invalid)}</style>`,
  `<link rel=stylesheet href=//x.invalid>`,
  `<base href=//x.invalid/>`,
  `<meta http-equiv=refresh content=0>`,
  `<!--><img src=x onerror=${run}>-->`,
  `<template><img src=x onerror=${run}>`,
  `&lt;script&gt;${run}&lt;/script&gt;`,
  `&#60;img src=x onerror=${run}&#62;`,
  `<textarea></textarea><img src=x onerror=1>`,
  `<x onpointerrawupdate=${run}>`,
  `" onmouseover="${run}`,
  `' autofocus onfocus='${run}`,
];

const scripts = [
  `javascript:${run}`,
  `JaVaScRiPt:${run}`,
  `data:text/html,<script>${run}</script>`,
  `\${${run}}`,
  `{${run}}`,
  `{{${run}}}`,
  `{@html '<img src=x onerror=${run}>'}`,
  `<%= ${run} %>`,
  `#{${run}}`,
  `');${run};//`,
  `";${run};"`,
  `\`;${run};\``,
  `\\u003cscript\\u003e${run}`,
  `constructor.constructor('${run}')()`,
  `eval('${run}')`,
];

const formulas = [
  '=1+1',
  '=cmd|x!A1',
  '+1+1',
  '-1+1',
  '@SUM(1)',
  '\t=1+1',
  '\r=1+1',
  ' =1+1',
  '\u00a0=1+1',
  '\u200b=1+1',
  '＝1+1',
  '=HYPERLINK("//x.invalid","x")',
  '"=1+1',
  '",=1+1',
  '"\r\n=1+1',
];

const letters = [
  '\u202egnp.exe',
  '\u2066Bed\u2069 4\u202c',
  'Bed\u0000 4',
  'Bed\u0007\u001b[31m 4',
  '\ud800Bed',
  'Bed\udc00',
  '\ufeffBed 4',
  'Be\u0301d\u0301\u0301\u0301\u0301\u0301 4',
  '\u2028Bed\u2029 4',
  '\ufffe\uffffBed',
  'Bed 4\u200d\u200d',
  '👩‍👩‍👧‍👦🏴󠁧󠁢󠁥󠁮󠁧󠁿',
];

const names = [
  '__proto__',
  'constructor',
  'prototype',
  'toString',
  'hasOwnProperty',
  'valueOf',
  'null',
  'undefined',
  'NaN',
  '../../etc/passwd',
  '..\\..\\x',
  '%00',
  '%3Cscript%3E',
  '%E0%A4%A',
  "'; DROP TABLE beds;--",
  '$(reboot)',
  '; reboot',
];

const long = ['x'.repeat(10_000), '<b>'.repeat(2_000), '＝'.repeat(5_000)];

/** Texts of our own making that try to be more than text. */
export const hostileTexts: readonly string[] = [
  ...markup,
  ...scripts,
  ...formulas,
  ...letters,
  ...names,
  ...long,
];

/** Files that are JSON, or nearly, and no file of ours. */
export const hostileFiles: readonly string[] = [
  '',
  '\u0000',
  '{',
  '[]',
  'null',
  '"text"',
  '1e999',
  '{"__proto__":{"polluted":true}}',
  '{"constructor":{"prototype":{"polluted":true}}}',
  '{"schema":1,"__proto__":{"polluted":true},"name":"x"}',
  '{"schema":1,"name":{"toString":"x"}}',
  '{"schema":"1"}',
  '{"schema":1e309}',
  '{"schema":1,"schema":1}',
  `${'['.repeat(20_000)}${']'.repeat(20_000)}`,
  `${'{"a":'.repeat(5_000)}1${'}'.repeat(5_000)}`,
  `<script>${run}</script>`,
  `)]}',\n{"schema":1}`,
  `{"format":"gloveside ledger","v":1,"made":"<img src=x onerror=${run}>"}`,
];
