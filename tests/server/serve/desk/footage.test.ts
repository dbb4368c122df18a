import { writeFile } from "node:fs/promises";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { writeDocument } from "../../../../packages/core/document/write.ts";
import { diskFiles } from "../../../../packages/server/base/files/read.ts";
import { footageFilesOf } from "../../../../packages/server/cli/footage.ts";
import { poppingDocument } from "../../cli/shots-for-tests.ts";
import { footageKey, LaidDesk } from "./desk-for-tests.ts";

/** A shot's own pictures and sound on the desk. */

let laid: LaidDesk;
const asked = (path: string, headers: Record<string, string> = {}) =>
  fetch(`http://127.0.0.1:${laid.port}${path}`, { headers });

beforeAll(async () => {
  laid = await LaidDesk.open(
    {
      "pier.curves.json": writeDocument(poppingDocument()),
      "pier.0007.png": "seven",
      "voice.wav": "0123456789",
    },
    "pier.curves.json",
    undefined,
    (folder) => ({
      images: { before: join(folder, "pier."), digits: 4, after: ".png", first: 7, last: 9 },
      sound: { path: join(folder, "voice.wav"), from: 1 },
    }),
  );
});
afterAll(() => laid.close());

describe("footage on the desk", () => {
  test("is told to pages with the motion, and found at the addresses that it names", async () => {
    const { motion } = await (await laid.client()).next("shot");
    const at = `/footage/${footageKey}/`;
    expect(motion.images).toEqual({ before: `${at}frame.`, digits: 4, after: "", first: 7, last: 9 });
    expect(motion.sound).toEqual({ address: `${at}sound`, from: 1 });
    const image = await asked(`${at}frame.0007`);
    expect(image.status).toBe(200);
    expect(image.headers.get("content-type")).toBe("image/png");
    expect(image.headers.get("cross-origin-resource-policy")).toBe("same-origin");
    expect(await image.text()).toBe("seven");
  });

  test("is sent in the parts that are asked for", async () => {
    const at = `/footage/${footageKey}/sound`;
    const part = async (range: string) => {
      const response = await asked(at, { range });
      return [response.status, await response.text(), response.headers.get("content-range")];
    };
    expect(await part("bytes=2-4")).toEqual([206, "234", "bytes 2-4/10"]);
    expect(await part("bytes=7-")).toEqual([206, "789", "bytes 7-9/10"]);
    expect(await part("bytes=-2")).toEqual([206, "89", "bytes 8-9/10"]);
    expect(await part("bytes=10-")).toEqual([416, "", "bytes */10"]);
    expect(await part("lines=1-2")).toEqual([200, "0123456789", null]);
  });

  test("is nowhere else, and nothing else is there", async () => {
    const at = `/footage/${footageKey}/`;
    for (const path of [
      "/footage/other/frame.0007",
      `${at}frame.0008`,
      `${at}frame.0006`,
      `${at}frame.0007/../../pier.curves.json`,
      `${at}..%2fpier.curves.json`,
      `${at}pier.curves.json`,
      `${at}sound.mp3`,
    ]) {
      expect((await asked(path)).status, path).toBe(404);
    }
  });
});

describe("the options of footage", () => {
  test("refuse what no browser takes, and what is not there", async () => {
    const io = { cwd: laid.folder, files: diskFiles };
    await writeFile(laid.path("pier.0007.exr"), "");
    await writeFile(laid.path("voice.mid"), "");
    await expect(footageFilesOf({ images: "pier.####.exr" }, 1, io)).rejects.toThrow("no browser takes");
    await expect(footageFilesOf({ sound: "voice.mid" }, 1, io)).rejects.toThrow("no browser takes");
    await expect(footageFilesOf({ sound: "nowhere.wav" }, 1, io)).rejects.toThrow("There is no such file");
    await expect(footageFilesOf({ images: "pier.png" }, 1, io)).rejects.toThrow("one # for each digit");
    expect(await footageFilesOf({ images: "pier.####.png", sound: "voice.wav" }, 5, io)).toEqual({
      images: { before: laid.path("pier."), digits: 4, after: ".png", first: 7, last: 7 },
      sound: { path: laid.path("voice.wav"), from: 5 },
    });
    expect(await footageFilesOf({}, 1, io)).toBe(null);
  });
});
