import { everyEngine } from './every_engine.mjs';

everyEngine('firefox', { quickTaps: 30 });
