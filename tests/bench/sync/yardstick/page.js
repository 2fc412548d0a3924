/** The yardstick's client; the same calls as ours.ts. Also loaded by node.cjs, without a browser. */
((scope) => {
	const timed = async (work) => {
		const from = performance.now();
		await work();
		return performance.now() - from;
	};
	const state = {};
	scope.bench = {
		async begin(name, options) {
			const { origin = scope.location?.origin, store = {}, batch = 1000 } = options ?? {};
			state.local = new PouchDB(`phone-${Math.random()}`, store);
			state.remote = `${origin}/db/${name}`;
			state.options = { batch_size: batch };
			// The server makes a database only when asked to.
			await new PouchDB(state.remote).info();
			return name;
		},
		async keep(records) {
			const docs = records.map(({ key, set }) => ({ _id: key, ...set }));
			await state.local.bulkDocs(docs);
		},
		push: () => timed(() => state.local.replicate.to(state.remote, state.options)),
		pull: () => timed(() => state.local.replicate.from(state.remote, state.options)),
		held: async () => (await state.local.info()).doc_count,
	};
})(globalThis);
