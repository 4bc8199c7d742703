// Runs in the page: tries to reach a listener on this machine in every way, and says what came of each.
export async function reachOut(port) {
  const base = `127.0.0.1:${port}`;
  const violations = new Set();
  document.addEventListener('securitypolicyviolation', event => violations.add(event.effectiveDirective));
  const settle = start =>
    new Promise(done => {
      const late = setTimeout(() => done('no answer'), 1500);
      const end = word => {
        clearTimeout(late);
        done(word);
      };
      try {
        start(end);
      } catch (error) {
        end(`threw ${error.name}`);
      }
    });
  const load = (tag, set) =>
    settle(end => {
      const element = document.createElement(tag);
      element.onload = () => end('reached');
      element.onerror = () => end('refused');
      set(element);
      document.body.append(element);
    });
  const outcome = {
    fetch: await settle(end =>
      fetch(`http://${base}/fetch`, { mode: 'no-cors' }).then(
        () => end('reached'),
        () => end('refused'),
      ),
    ),
    img: await load('img', element => {
      element.src = `http://${base}/img`;
    }),
    socket: await settle(end => {
      const socket = new WebSocket(`ws://${base}/socket`);
      socket.onopen = () => end('reached');
      socket.onerror = () => end('refused');
    }),
    beacon: await settle(end => {
      navigator.sendBeacon(`http://${base}/beacon`, 'x');
      setTimeout(() => end('sent or not'), 50);
    }),
    worker: await settle(end => {
      const worker = new Worker(`http://${base}/worker`);
      worker.onerror = () => end('refused');
      worker.onmessage = () => end('reached');
    }),
    script: await load('script', element => {
      element.src = `http://${base}/script`;
    }),
    style: await load('link', element => {
      element.rel = 'stylesheet';
      element.href = `http://${base}/style`;
    }),
    frame: await settle(end => {
      const element = document.createElement('iframe');
      element.src = `http://${base}/frame`;
      document.body.append(element);
      setTimeout(() => end('tried'), 300);
    }),
  };
  return { ...outcome, violations: [...violations] };
}
