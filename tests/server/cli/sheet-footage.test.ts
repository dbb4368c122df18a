import { mkdir, readFile } from "node:fs/promises";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { Workshop } from "./run-in-process.ts";
import { poppingDocument } from "./shots-for-tests.ts";

/** `keyside sheet --images --sound`: a page that refers to the shot's rendered frames and its sound. */

let shop: Workshop;

beforeAll(async () => {
  shop = await Workshop.open();
  await shop.put("sign.curves.json", poppingDocument());
  await mkdir(shop.path("renders of today"));
  for (const name of ["sign.0007.png", "sign.0096.png", "sign.12345.png", "sign.07.png", "sign.0008.jpg"]) {
    await shop.put(`renders of today/${name}`, "");
  }
  await shop.put("voice.wav", "");
  await mkdir(shop.path("sheets"));
});
afterAll(() => shop.close());

const sheet = (...argv: string[]) => shop.run(["sheet", "sign.curves.json", "--no-fixes", ...argv]);
const motionIn = (html: string) => JSON.parse(/id="motion">(.*?)<\/script>/s.exec(html)?.[1] ?? "null");
const policyOf = (html: string) => /Content-Security-Policy" content="([^"]*)"/.exec(html)?.[1];

describe("footage", () => {
  test("is referred to from where the page stands", async () => {
    const argv = ["--images", "renders of today/sign.####.png", "--sound", "voice.wav"];
    expect((await sheet(...argv, "--out", "sheets/sign.html")).stderr).toBe("");
    const html = await readFile(shop.path("sheets/sign.html"), "utf8");
    expect(motionIn(html)).toMatchObject({
      images: { before: "../renders%20of%20today/sign.", digits: 4, after: ".png", first: 7, last: 12345 },
      sound: { address: "../voice.wav", from: 1 },
    });
    expect(policyOf(html)).toContain("; img-src 'self' file:; media-src 'self' file:");
    expect(motionIn((await sheet(...argv)).stdout).images.before).toBe("renders%20of%20today/sign.");
  });

  test("without it a page may load nothing", async () => {
    const { stdout } = await sheet();
    expect(motionIn(stdout)).not.toHaveProperty("images");
    expect(motionIn(stdout)).not.toHaveProperty("sound");
    expect(policyOf(stdout)).not.toContain("-src 'self'");
  });

  test.each([
    [["--images", "renders/sign.png"], 2, "one # for each digit"],
    [["--images", "renders/##/sign.##.png"], 2, "one # for each digit"],
    [["--images", "renders.##/sign.png"], 2, "one # for each digit"],
    [
      ["--images", "nowhere/sign.##.png"],
      3,
      "nowhere/sign.##.png: The folder of the rendered frames cannot be read.",
    ],
    [["--images", "renders of today/other.##.png"], 3, "No rendered frame has a name like this."],
    [["--sound", "no.wav"], 3, "no.wav: There is no such file; --sound names the shot's sound."],
    [
      ["--sound", "voice.wav", "--format", "markdown"],
      2,
      "--images and --sound are for a page: --format html.",
    ],
    [["--sound", "voice.wav", "--out", "voice.wav", "--force"], 2, "voice.wav"],
  ])("%j is told", async (argv, code, words) => {
    const ran = await sheet(...(argv as string[]));
    expect(ran.stderr).toContain(words);
    expect(ran.code).toBe(code);
  });
});
