// Linked in front of the programs that run under Node.js: Emscripten starts with an environment of its own.
Module['preRun'] = () => Object.assign(ENV, process.env);
