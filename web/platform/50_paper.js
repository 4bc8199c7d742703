// What is not the picture: the sheet on paper, and the words about the page.

(() => {
  'use strict';
  const sheet = document.getElementById('print');
  const about = document.getElementById('about');

  Hangtime.setPrint = html => { sheet.innerHTML = html; };
  Hangtime.print = () => setTimeout(() => print(), 0); // after the frame that asked for it
  addEventListener('beforeprint', () => { if (Hangtime.running && !Hangtime.over) Module._ht_before_print(); });

  Hangtime.showAbout = () => {
    if (!about.open) about.showModal();
  };
  document.getElementById('about-close').addEventListener('click', () => about.close());
})();
