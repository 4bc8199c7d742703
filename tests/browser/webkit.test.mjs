import { everyEngine } from './every_engine.mjs';

everyEngine('webkit', { quickTaps: 30 });
