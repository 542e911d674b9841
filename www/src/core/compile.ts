// Compiles a wasm file that lies beside the page. In the one-file page compile.packed.ts stands here.

export async function compileCore(url: string): Promise<WebAssembly.Module> {
  // In the manner of the page's preload: asked for in another, WebKit would load the file twice.
  const response = await fetch(url, { mode: 'no-cors', credentials: 'include' });
  if (!response.ok) throw new Error(`${url}: HTTP status ${response.status}`);
  // A static host that does not know the type would make streaming compilation fail.
  return response.headers.get('Content-Type') === 'application/wasm'
    ? WebAssembly.compileStreaming(response)
    : WebAssembly.compile(await response.arrayBuffer());
}
