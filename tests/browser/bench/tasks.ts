// How long the page does not answer, by the time of its own thread: others who share the machine do not count.
import type { CDPSession, Page } from "@playwright/test";

interface Event {
    name: string;
    ph: string;
    tdur?: number;
    tid: number;
    pid: number;
    args: { name?: string };
}

/** The tasks of the page's thread, each in its own milliseconds. */
export class Tasks {
    private constructor(private readonly session: CDPSession) {}

    static async of(page: Page): Promise<Tasks> {
        const session = await page.context().browser()!.newBrowserCDPSession();
        const tasks = new Tasks(session);
        await tasks.start();
        return tasks;
    }

    private start = () =>
        this.session.send("Tracing.start", { traceConfig: { includedCategories: ["disabled-by-default-devtools.timeline", "__metadata"], excludedCategories: ["*"] }, transferMode: "ReportEvents" });

    /** Since the last call. */
    async so_far(): Promise<number[]> {
        const tasks = await this.stop();
        await this.start();
        return tasks;
    }

    /** The last ones: the next test of this browser may look for its own then. */
    async stop(): Promise<number[]> {
        const events: Event[] = [];
        const take = ({ value }: { value: unknown[] }) => void events.push(...(value as Event[]));
        this.session.on("Tracing.dataCollected", take);
        const complete = new Promise<void>((done) => this.session.once("Tracing.tracingComplete", () => done()));
        await this.session.send("Tracing.end");
        await complete;
        this.session.off("Tracing.dataCollected", take);
        const named = events.filter((event) => event.name === "thread_name" && event.args.name === "CrRendererMain");
        const own = new Set(named.map((event) => `${event.pid} ${event.tid}`));
        const tasks = events.filter((event) => event.name === "RunTask" && own.has(`${event.pid} ${event.tid}`));
        return tasks.map((event) => (event.tdur ?? 0) / 1000);
    }
}
