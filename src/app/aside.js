// The app's own module once more, in a thread of its own; each message brings the compiled module, the first one starts it.
// Asked a { question } it answers { answer }, in the order of the questions, and stays. Given a { file } to read it tells
// { share } on the way, then { done } or { fault }; a fault without words is no answer.
import * as app from "./liftmargin.js";

let started;

onmessage = async ({ data: { module, question, file, columns } }) => {
  await (started ??= app.default({ module_or_path: module }));
  if (question !== undefined) return postMessage({ answer: app.flySamples(question) });
  const tell = (share) => postMessage({ share });
  await app.readRecording(file, columns, tell).then(
    (done) => postMessage({ done }),
    (fault) => postMessage({ fault }),
  );
};
// What goes wrong in the asynchronous part is no error of the thread by itself.
addEventListener("unhandledrejection", ({ reason }) => {
  throw reason;
});
