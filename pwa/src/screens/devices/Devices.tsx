/** The phones that may read and write this shed; inviting one more, shutting one out. */
import { useEffect, useState } from "preact/hooks";
import {
	fetchPhones,
	type Invitation,
	invite,
	type PairedPhone,
	shutOut,
} from "../../sync/devices.ts";
import { SyncTrouble } from "../../sync/problem.ts";
import { session } from "../../sync/session.ts";
import { Notice } from "../../ui/Notice.tsx";
import { QrPicture } from "../../ui/QrPicture.tsx";
import { Screen } from "../../ui/Screen.tsx";
import { ago, clock } from "../../ui/words.ts";
import { PATHS } from "../paths.ts";

export function Devices() {
	const [phones, setPhones] = useState<PairedPhone[] | null>(null);
	const [invitation, setInvitation] = useState<Invitation | null>(null);
	const [fault, setFault] = useState<string | null>(null);
	const attempt = async (work: () => Promise<void>): Promise<void> => {
		setFault(null);
		try {
			await work();
		} catch (error) {
			if (!(error instanceof SyncTrouble)) throw error;
			setFault(`${error.problem.happened} ${error.problem.todo}`);
		}
	};
	useEffect(() => {
		void attempt(async () => setPhones(await fetchPhones()));
	}, []);
	return (
		<Screen title="Phones" backTo={PATHS.boat}>
			{fault && (
				<Notice sort="asks" role="alert">
					{fault}
				</Notice>
			)}
			{invitation ? (
				<InvitationCard invitation={invitation} />
			) : (
				<button
					type="button"
					class="button button-main button-wide"
					onClick={() => void attempt(async () => setInvitation(await invite()))}
				>
					Invite another phone
				</button>
			)}
			<section class="part">
				<h2>Paired phones</h2>
				<ul class="rows">
					{phones?.map((phone) => (
						<Phone
							key={phone.device}
							phone={phone}
							onShutOut={() =>
								void attempt(async () => {
									await shutOut(phone.device);
									setPhones(await fetchPhones());
								})
							}
						/>
					))}
				</ul>
				{!phones && (
					<p class="part-note">The list is on the server and shows when it is reached.</p>
				)}
			</section>
		</Screen>
	);
}

function InvitationCard({ invitation }: { invitation: Invitation }) {
	return (
		<section aria-label="Invitation">
			<p>
				On the other phone, scan this with its camera app, or open the address and type the code. It
				works once, until {clock(new Date(invitation.expires_at))}.
			</p>
			<QrPicture text={invitation.url} label="QR code of the pairing address" />
			<p class="tag-code tag-code-large">{invitation.code}</p>
			<p class="small pencil">{invitation.url.split("#")[0]}</p>
		</section>
	);
}

function Phone({ phone, onShutOut }: { phone: PairedPhone; onShutOut: () => void }) {
	const [sure, setSure] = useState(false);
	const mine = phone.device === session.value.device;
	const seen = phone.last_seen
		? `seen ${ago(Date.parse(phone.last_seen), Date.now())}`
		: "never seen";
	return (
		<li class="row">
			<span class="row-main">
				<span class="row-title">{phone.name || "Unnamed phone"}</span>
				<span class="row-under">
					{mine ? "this phone" : seen}
					{phone.revoked ? ", shut out" : ""}
				</span>
			</span>
			{!mine && !phone.revoked && (
				<button type="button" class="button" onClick={() => (sure ? onShutOut() : setSure(true))}>
					{sure ? "Yes, shut it out" : "Shut out"}
				</button>
			)}
		</li>
	);
}
