(async () => {
const letters = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz!#$%.()*+-;,=>?@^_`{|}~";
const packed = document.getElementById("packed"), text = packed.content.textContent;
// Five letters are four bytes; the last ones may be fewer.
const short = (5 - text.length % 5) % 5, all = text + "~".repeat(short);
const bytes = new DataView(new ArrayBuffer(all.length / 5 * 4));
for (let at = 0; at < all.length; at += 5) {
bytes.setUint32(at / 5 * 4, [...all.slice(at, at + 5)].reduce((sum, each) => sum * 85 + letters.indexOf(each), 0));
}
const whole = new Blob([bytes.buffer.slice(0, bytes.byteLength - short)]);
const stream = whole.stream().pipeThrough(new DecompressionStream("deflate"));
packed.sheet = JSON.parse(await new Response(stream).text());
// The policy of the page knows this style and this script by their hashes, as it knows these lines.
for (const kind of ["style", "script"]) {
const part = document.createElement(kind);
part.textContent = packed.sheet[kind];
document.head.append(part);
}
})().catch(() => {});
