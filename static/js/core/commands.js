// @ts-check
/**
 * @typedef {{name: string, title: string, group: string, run: (arg?: any) => void}} Command
 * What the page can do, by name: a key, a button and a test reach the same command.
 */
export class Commands {
  /** @type {Map<string, Command>} */
  #all = new Map();

  /** @param {string} group @param {Record<string, [string, (arg?: any) => void]>} commands */
  add(group, commands) {
    for (const [name, [title, run]] of Object.entries(commands)) {
      if (this.#all.has(name)) throw new Error(`The command ${name} exists already.`);
      this.#all.set(name, { name, title, group, run });
    }
  }

  /** @returns {Command[]} in the order in which they were added */
  get all() {
    return [...this.#all.values()];
  }

  /** @param {string} name @returns {Command} */
  get(name) {
    const command = this.#all.get(name);
    if (!command) throw new Error(`There is no command ${name}.`);
    return command;
  }

  /** @param {string} name @param {any} [arg] */
  run(name, arg) {
    this.get(name).run(arg);
  }
}
