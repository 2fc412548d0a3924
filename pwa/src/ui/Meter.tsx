/** A share as a bar with its words under it; the words alone say everything. */
interface Props {
	/** 0 to 1. */
	share: number;
	/** What it measures, for a screen reader. */
	label: string;
	children: string;
	danger?: boolean;
}

export function Meter({ share, label, children, danger }: Props) {
	const percent = Math.round(Math.min(Math.max(share, 0), 1) * 100);
	return (
		<div class="meter">
			<div
				class="meter-bar"
				role="progressbar"
				aria-label={label}
				aria-valuenow={percent}
				aria-valuemin={0}
				aria-valuemax={100}
				aria-valuetext={children}
			>
				<div
					class={danger ? "meter-full meter-danger" : "meter-full"}
					style={{ width: `${percent}%` }}
				/>
			</div>
			<p class="meter-words">{children}</p>
		</div>
	);
}
