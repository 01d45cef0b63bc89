// How a packed module comes in: for the start script, and for the modules that follow the first card.

/** The module, unpacked and compiled while it arrives. A host that knows what .gz is may have it unpacked on the way. */
export async function unpacked(response) {
  if (!response.ok) throw new Error(`${response.url}: ${response.status}`);
  const reader = response.body.getReader();
  const first = await reader.read();
  const all = new ReadableStream({
    start: (sink) => (first.done ? sink.close() : sink.enqueue(first.value)),
    pull: async (sink) => {
      const next = await reader.read();
      // A slow network is no reason to give up: `stopped.js` waits as long as something comes.
      dispatchEvent(new Event("app-alive"));
      if (next.done) sink.close();
      else sink.enqueue(next.value);
    },
  });
  const isPacked = first.value?.[0] === 0x1f && first.value?.[1] === 0x8b;
  const plain = isPacked ? all.pipeThrough(new DecompressionStream("gzip")) : all;
  return new Response(plain, { headers: { "content-type": "application/wasm" } });
}
