import type { StorageFault } from './ledger.ts';

/** A fault of the world on its way out of a transaction. */
export class StorageFaultError extends Error {
  override readonly name = 'StorageFaultError';
  readonly fault: StorageFault;

  constructor(fault: StorageFault) {
    super(fault);
    this.fault = fault;
  }
}

/** The fault that stands behind what IndexedDB throws. */
export function faultOf(error: unknown): StorageFault {
  if (error instanceof StorageFaultError) return error.fault;
  const name = error instanceof Error || error instanceof DOMException ? error.name : '';
  switch (name) {
    case 'QuotaExceededError':
      return 'storage_full';
    case 'SecurityError':
    case 'NotAllowedError':
      return 'storage_refused';
    case 'VersionError':
      return 'storage_newer';
    case 'ConstraintError':
      return 'chain_forked';
    case 'InvalidStateError':
    case 'AbortError':
      return 'storage_closed';
    default:
      return 'storage_failed';
  }
}
