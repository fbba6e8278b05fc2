// The bench page as a golden holds it: with what the build puts in left out, so that the bytes depend on the scenario alone; and the
// manifest without the page's hash, which depends on all of it.

/** `bench.html` and `manifest.json` are changed, any other file stays as it is. */
export function asGolden(name, bytes) {
  if (name === 'bench.html') return Buffer.from(withoutProgram(bytes.toString('utf8')));
  if (name === 'manifest.json')
    return Buffer.from(
      bytes
        .toString('utf8')
        .replace(/("bench\.html": \{\s*"sha256": )"[0-9a-f]{64}"/, '$1"(of the whole page)"'),
    );
  return bytes;
}

const withoutProgram = (page) =>
  page
    .replace(/<style>[\s\S]*?<\/style>/, '<style>(style)</style>')
    .replace(/<script>[\s\S]*?<\/script>/, '<script>(program)</script>')
    .replace(/'sha256-[^']*'/, "'sha256-(program)'")
    .replace(/(<template id="notices">)[\s\S]*?(<\/template>)/, '$1(notices)$2');
