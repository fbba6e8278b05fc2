// A thread that runs the executable's own `main`, as bin/datumlight.js does, for one request after the other: argv and what comes on
// stdin in; the exit code, what was said and the time on a processor out. A thread, so that whoever asks can see it hang.
import { createRequire } from 'node:module';
import { cpuUsage } from 'node:process';
import { Readable, Writable } from 'node:stream';
import { parentPort } from 'node:worker_threads';

const { main } = createRequire(import.meta.url)('../../../dist/start.cjs');

class Said extends Writable {
  text = '';
  _write(chunk, _encoding, done) {
    this.text += chunk;
    done();
  }
}

parentPort.on('message', async ({ argv, input }) => {
  const [stdout, stderr] = [new Said(), new Said()];
  const before = cpuUsage();
  const code = await main(argv, {
    stdin: Readable.from([Buffer.from(input)]),
    stdout,
    stderr,
    env: { DATUMLIGHT_TRACE: '1' },
  });
  const { user, system } = cpuUsage(before);
  parentPort.postMessage({ code, stdout: stdout.text, stderr: stderr.text, cpu_ms: (user + system) / 1000 });
});
