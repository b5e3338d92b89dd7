declare module '@echogarden/rnnoise-wasm' {
  const create: (options: object) => Promise<unknown>;
  export default create;
}
