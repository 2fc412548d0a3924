/** One of a few words in one tap; tapping the chosen one again takes it back where that is allowed. */
interface Option<T extends string> {
	value: T;
	label: string;
}

interface Props<T extends string> {
	name: string;
	legend: string;
	options: readonly Option<T>[];
	value: T | null;
	onChange: (value: T | null) => void;
	/** The row of the hot path: 72 px, legend for screen readers only. */
	hot?: boolean;
	/** Break into several rows where the words are long. */
	wrap?: boolean;
	/** A second tap clears the choice. */
	clears?: boolean;
}

export function Choice<T extends string>(props: Props<T>) {
	const { name, legend, options, value, onChange, hot, wrap, clears } = props;
	return (
		<fieldset class={hot ? "" : "field"}>
			<legend class={hot ? "spoken" : ""}>{legend}</legend>
			<div class={wrap ? "choice-row choice-wrap" : "choice-row"} data-count={options.length}>
				{options.map((option) => (
					<label key={option.value} class={hot ? "choice choice-hot" : "choice"}>
						<input
							type="radio"
							name={name}
							checked={value === option.value}
							onChange={() => onChange(option.value)}
							onClick={() => {
								if (clears && value === option.value) onChange(null);
							}}
						/>
						<span class="choice-word">{option.label}</span>
					</label>
				))}
			</div>
		</fieldset>
	);
}
