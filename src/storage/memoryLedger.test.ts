import { runLedgerContract } from '../../tests/support/ledgerContract.ts';
import { strictRules } from '../charting/reviewRules.ts';
import { MemoryLedger } from './memoryLedger.ts';

runLedgerContract('in memory', async () => new MemoryLedger(() => strictRules));
