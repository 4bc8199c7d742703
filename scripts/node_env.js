// Linked in front of the programs that run under Node.js: Emscripten starts with an environment of its own.
// ENV exists only in a program that asks for its environment.
Module['preRun'] = () => typeof ENV != 'undefined' && Object.assign(ENV, process.env);
