// The app's own module once more, in a thread of its own, for one piece of work: what it is to do comes as the first message,
// with the compiled module. It tells { share } on the way, then { done } or { fault }; a fault without words is no answer.
import * as app from "./liftmargin.js";

onmessage = async ({ data: { module, file, columns } }) => {
  await app.default({ module_or_path: module });
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
