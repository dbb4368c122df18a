import { type ChildProcess, execFile, spawn } from "node:child_process";
import { randomBytes } from "node:crypto";
import { chmod, mkdir, mkdtemp, rm, writeFile } from "node:fs/promises";
import { createServer } from "node:net";
import { hostname, tmpdir, userInfo } from "node:os";
import { join } from "node:path";
import { setTimeout as sleep } from "node:timers/promises";
import { promisify } from "node:util";

const execute = promisify(execFile);

/** A Slurm cluster of one node with two processors, whose daemons are this process's children. */
export class SlurmCluster {
  readonly folder: string;
  private readonly daemons: ChildProcess[] = [];

  private constructor(folder: string) {
    this.folder = folder;
  }

  /** Starts munged, slurmctld and slurmd in a folder of their own and waits until the node is idle. */
  static async start(): Promise<SlurmCluster> {
    const cluster = new SlurmCluster(await mkdtemp(join(tmpdir(), "keyside-slurm-")));
    try {
      await cluster.startDaemons();
      await cluster.waitUntilIdle();
      return cluster;
    } catch (error) {
      const logs = await cluster.logs();
      await cluster.stop();
      throw new Error(`Slurm did not start: ${(error as Error).message}\n${logs}`);
    }
  }

  private path(name: string): string {
    return join(this.folder, name);
  }

  private get env(): NodeJS.ProcessEnv {
    return { ...process.env, SLURM_CONF: this.path("slurm.conf") };
  }

  private async startDaemons(): Promise<void> {
    await chmod(this.folder, 0o755);
    for (const name of ["state", "spool", "log"]) await mkdir(this.path(name));
    await writeFile(this.path("munge.key"), randomBytes(1024), { mode: 0o400 });
    const node = hostname().split(".")[0] as string;
    await writeFile(this.path("slurm.conf"), await this.configuration(node));
    this.daemon("munged", [
      "--foreground",
      `--key-file=${this.path("munge.key")}`,
      `--socket=${this.path("munge.sock")}`,
      `--pid-file=${this.path("munged.pid")}`,
      `--seed-file=${this.path("munge.seed")}`,
      `--log-file=${this.path("log/munged")}`,
    ]);
    await this.until("munged", async () => {
      await execute("munge", ["--no-input", `--socket=${this.path("munge.sock")}`]);
      return true;
    });
    const configuration = this.path("slurm.conf");
    this.daemon("slurmctld", ["-D", "-f", configuration, "-L", this.path("log/slurmctld")]);
    this.daemon("slurmd", ["-D", "-f", configuration, "-N", node, "-L", this.path("log/slurmd")]);
  }

  private async configuration(node: string): Promise<string> {
    const { username } = userInfo();
    const [control, agent] = await freePorts();
    return `${[
      "ClusterName=keyside",
      `SlurmctldHost=${node}(127.0.0.1)`,
      "AuthType=auth/munge",
      `AuthInfo=socket=${this.path("munge.sock")}`,
      `SlurmUser=${username}`,
      `SlurmdUser=${username}`,
      `SlurmctldPort=${control}`,
      `SlurmdPort=${agent}`,
      `StateSaveLocation=${this.path("state")}`,
      `SlurmdSpoolDir=${this.path("spool")}`,
      `SlurmctldPidFile=${this.path("slurmctld.pid")}`,
      `SlurmdPidFile=${this.path("slurmd.pid")}`,
      // Nothing of the machine beyond this folder is needed or touched: no control groups, no accounting.
      "ProctrackType=proctrack/pgid",
      "TaskPlugin=task/none",
      "SwitchType=switch/none",
      "MpiDefault=none",
      "AccountingStorageType=accounting_storage/none",
      "JobAcctGatherType=jobacct_gather/none",
      "SelectType=select/cons_tres",
      "SelectTypeParameters=CR_Core",
      "ReturnToService=2",
      `NodeName=${node} NodeAddr=127.0.0.1 CPUs=2 State=UNKNOWN`,
      `PartitionName=main Nodes=${node} Default=YES MaxTime=INFINITE State=UP`,
    ].join("\n")}\n`;
  }

  private daemon(name: string, argv: readonly string[]): void {
    const child = spawn(name, argv, { cwd: this.folder, env: this.env, stdio: "ignore" });
    // A program that is not there shows in the wait that follows.
    child.on("error", () => {});
    this.daemons.push(child);
  }

  private waitUntilIdle(): Promise<void> {
    return this.until("the node", async () => {
      const { stdout } = await execute("sinfo", ["--noheader", "--format=%T"], { env: this.env });
      return stdout.trim() === "idle";
    });
  }

  private async until(what: string, isSo: () => Promise<boolean>): Promise<void> {
    let last = "";
    for (let attempt = 0; attempt < 150; attempt++) {
      try {
        if (await isSo()) return;
      } catch (error) {
        last = (error as Error).message;
      }
      await sleep(200);
    }
    throw new Error(`${what} was not ready after 30 s. ${last}`);
  }

  /**
   * Submits an array job and waits for all of its tasks.
   * @param array as sbatch takes it, for example "1-4"
   * @param command a line for the shell
   */
  async runArray(array: string, command: string, cwd: string): Promise<void> {
    const output = this.path("log/task-%A-%a");
    try {
      await execute(
        "sbatch",
        ["--wait", `--array=${array}`, `--output=${output}`, `--chdir=${cwd}`, "--wrap", command],
        {
          env: this.env,
        },
      );
    } catch (error) {
      throw new Error(`The array job failed: ${(error as Error).message}\n${await this.logs()}`);
    }
  }

  private async logs(): Promise<string> {
    const { stdout } = await execute("sh", ["-c", "tail -n 20 log/* 2>&1 || true"], { cwd: this.folder });
    return stdout;
  }

  /** Ends the daemons and takes the folder away. */
  async stop(): Promise<void> {
    for (const child of this.daemons.reverse()) await ended(child);
    await rm(this.folder, { recursive: true, force: true });
  }
}

async function ended(child: ChildProcess): Promise<void> {
  if (child.pid === undefined || child.exitCode !== null || child.signalCode !== null) return;
  const exit = new Promise<void>((resolve) => {
    child.once("exit", () => resolve());
  });
  child.kill("SIGTERM");
  const timer = setTimeout(() => child.kill("SIGKILL"), 10_000);
  await exit;
  clearTimeout(timer);
}

/** Two ports of the loopback that nobody uses now. */
async function freePorts(): Promise<[number, number]> {
  const servers = [createServer(), createServer()];
  const ports: number[] = [];
  for (const server of servers) {
    await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
    ports.push((server.address() as { port: number }).port);
  }
  for (const server of servers) await new Promise((resolve) => server.close(resolve));
  return ports as [number, number];
}
