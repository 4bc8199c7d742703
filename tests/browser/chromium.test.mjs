import { everyEngine } from './every_engine.mjs';

everyEngine('chromium', { quickTaps: 100 });
