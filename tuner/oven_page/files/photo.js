// A photo is made small on the device: it goes over a kitchen's network, and only its pixels go.
import { el } from "./drawing.js";

const PHOTO_SIDE_PX = 1600;

export async function smaller(file) {
  const drawn = await createImageBitmap(file, { imageOrientation: "from-image" });
  const scale = Math.min(1, PHOTO_SIDE_PX / Math.max(drawn.width, drawn.height));
  const canvas = el("canvas", { width: Math.round(drawn.width * scale), height: Math.round(drawn.height * scale) });
  canvas.getContext("2d").drawImage(drawn, 0, 0, canvas.width, canvas.height);
  const blob = await new Promise((resolve) => { canvas.toBlob(resolve, "image/jpeg", 0.85); });
  return blob.arrayBuffer();
}
