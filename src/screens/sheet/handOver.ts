import type { HandedFile } from '../../app/recordFiles.ts';

/** Give a file to the person: the browser saves it, nothing is sent. */
export function handOver({ name, content }: HandedFile): void {
  const address = URL.createObjectURL(content);
  const link = document.createElement('a');
  link.href = address;
  link.download = name;
  link.click();
  // Some browsers read the file only after the click has gone by.
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
}
