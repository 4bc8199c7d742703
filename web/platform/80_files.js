// A log to a file and back. The name of a file that is opened goes no further: it could say who somebody is.

(() => {
  'use strict';
  const most = 16e6; // bytes; a log of 100,000 events
  const { kinds, tell } = Hangtime;

  Hangtime.saveFile = (name, text, type) => {
    const link = document.createElement('a');
    link.href = URL.createObjectURL(new Blob([text], { type }));
    link.download = name;
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 60_000); // the browser may ask first where to put it
  };

  // outcome as platform.hpp has it: 0 opened, 1 too large, 2 unreadable, 3 none chosen.
  Hangtime.openFile = () => {
    const input = document.createElement('input');
    input.type = 'file';
    input.accept = '.json,.txt,.log';
    input.addEventListener('cancel', () => tell(kinds.file, { outcome: 3 }));
    input.addEventListener('change', async () => {
      const [file] = input.files;
      if (!file) return tell(kinds.file, { outcome: 3 });
      if (file.size > most) return tell(kinds.file, { outcome: 1 });
      try {
        const decoder = new TextDecoder('utf-8', { fatal: true });
        tell(kinds.file, { text: decoder.decode(await file.arrayBuffer()) });
      } catch {
        tell(kinds.file, { outcome: 2 });
      }
    });
    Hangtime.picker = input; // kept: without a reference it can be gone before somebody has chosen
    input.click();
  };
})();
