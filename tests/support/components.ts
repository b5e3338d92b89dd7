import '@testing-library/jest-dom/vitest';
import { configure } from '@testing-library/svelte';

// On a busy machine a picture may take longer than the second that is waited for it otherwise.
configure({ asyncUtilTimeout: 5_000 });
