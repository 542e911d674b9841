// The page's side of the worker: one worker, made when it is first asked for, one job after
// another. A job that is given up ends its worker; a worker that breaks is replaced. Whatever goes
// wrong comes back as problems, so that nobody has to catch.

import { toldByJob } from '../words/core';
import { words } from '../words/work';
import LabWorker from './lab.worker?worker';
import type { AnswerOf, AskOf, FromWorker, JobName, ToWorker } from './lab.types';
import { labCore } from './labcore';
import type { Problem, Refused } from './types';

export interface JobOptions {
  /** Called with how much is done, of how much, and with what is known so far by jobs that tell it. */
  readonly progress?: (done: number, of: number, news?: unknown) => void;
  /** Gives the job up: its worker ends at once. */
  readonly signal?: AbortSignal;
}

/** What a job that was given up answers: no problem, and no answer. */
export class GivenUp extends Error {
  constructor() {
    super('given up');
    this.name = 'GivenUp';
  }
}

interface Job {
  readonly name: JobName;
  readonly ask: object;
  readonly options: JobOptions;
  readonly resolve: (answer: object) => void;
  readonly reject: (reason: Error) => void;
}

const problem = (expected: string, value: string): Refused => {
  const one: Problem = {
    path: '',
    value,
    expected,
    hint: words.again,
    kept: words.nothingRun,
    severity: 'error',
  };
  return { problems: [one] };
};

export class Lab {
  #worker: Worker | undefined;
  /** Counts the jobs: a reply of another generation is stale. */
  #generation = 0;
  #now: Job | undefined;
  readonly #waiting: Job[] = [];

  /**
   * Runs a job when those before it are done; answers with its result or with problems. Rejects
   * with `GivenUp`, and with nothing else, when it is given up.
   */
  run<J extends JobName>(name: J, ask: AskOf<J>, options: JobOptions = {}): Promise<AnswerOf<J> | Refused> {
    return new Promise<object>((resolve, reject) => {
      const job: Job = { name, ask, options, resolve, reject };
      if (options.signal?.aborted === true) {
        reject(new GivenUp());
        return;
      }
      options.signal?.addEventListener('abort', () => {
        this.#giveUp(job);
      });
      this.#waiting.push(job);
      this.#next();
    }) as Promise<AnswerOf<J> | Refused>;
  }

  /** Compiles the core and starts the worker ahead of the first job. */
  warm(): void {
    this.#ready().catch(() => {
      // The first job will tell.
    });
  }

  #next(): void {
    if (this.#now !== undefined) return;
    const job = this.#waiting.shift();
    if (job === undefined) return;
    this.#now = job;
    this.#generation += 1;
    const generation = this.#generation;
    this.#ready().then(
      (worker) => {
        // It may have been given up meanwhile.
        if (this.#now !== job || generation !== this.#generation) return;
        this.#post(worker, { kind: 'job', generation, job: job.name, ask: job.ask });
      },
      (cause: unknown) => {
        if (this.#now === job) this.#end(problem(words.runner, String(cause)));
      },
    );
  }

  #post(worker: Worker, message: ToWorker): void {
    try {
      worker.postMessage(message);
    } catch (cause) {
      this.#broken(String(cause));
    }
  }

  async #ready(): Promise<Worker> {
    const module = await labCore();
    if (this.#worker === undefined) {
      const worker = new LabWorker();
      this.#worker = worker;
      worker.addEventListener('message', ({ data }: MessageEvent<FromWorker>) => {
        if (worker === this.#worker) this.#heard(data);
      });
      worker.addEventListener('error', (event) => {
        event.preventDefault();
        if (worker === this.#worker) this.#broken(event.message);
      });
      worker.addEventListener('messageerror', () => {
        if (worker === this.#worker) this.#broken(words.unreadable);
      });
      worker.postMessage({ kind: 'core', module } satisfies ToWorker);
    }
    return this.#worker;
  }

  #heard(message: FromWorker): void {
    if (message.generation !== this.#generation || this.#now === undefined) return;
    switch (message.kind) {
      case 'progress':
        this.#now.options.progress?.(message.done, message.of, toldByJob(this.#now.name, message.news));
        break;
      case 'answer':
        this.#end(toldByJob(this.#now.name, message.answer));
        break;
      case 'failed':
        this.#broken(message.reason);
        break;
      default:
        this.#broken(words.notUnderstood);
    }
  }

  /** The worker is not trusted any more: the next job gets a new one. */
  #broken(reason: string): void {
    this.#drop();
    this.#end(problem(words.runEnds, reason || words.brokeOff));
  }

  #drop(): void {
    this.#worker?.terminate();
    this.#worker = undefined;
  }

  #end(answer: object): void {
    const job = this.#now;
    this.#now = undefined;
    job?.resolve(answer);
    this.#next();
  }

  #giveUp(job: Job): void {
    const at = this.#waiting.indexOf(job);
    if (at >= 0) {
      this.#waiting.splice(at, 1);
      job.reject(new GivenUp());
    } else if (this.#now === job) {
      this.#now = undefined;
      this.#drop();
      job.reject(new GivenUp());
      this.#next();
    }
  }
}

let only: Lab | undefined;

/** The page's worker. */
export function lab(): Lab {
  only ??= new Lab();
  return only;
}
