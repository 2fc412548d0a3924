/** The phones that may read and write this shed: a name, one more, one fewer, and rescued work. */
import { useEffect, useState } from "preact/hooks";
import {
	type Invitation,
	invite,
	type PairedPhone,
	phones,
	refreshPhones,
	rename,
	shutOut,
} from "../../sync/devices.ts";
import { askedInVain, SyncTrouble } from "../../sync/problem.ts";
import { refreshSession, session } from "../../sync/session.ts";
import { TextField } from "../../ui/Field.tsx";
import { Notice } from "../../ui/Notice.tsx";
import { QrPicture } from "../../ui/QrPicture.tsx";
import { Screen } from "../../ui/Screen.tsx";
import { clock } from "../../ui/words.ts";
import { PATHS } from "../paths.ts";
import { BringIn } from "./BringIn.tsx";
import { PhoneRow } from "./PhoneRow.tsx";

export function Devices() {
	const [invitation, setInvitation] = useState<Invitation | null>(null);
	const [fault, setFault] = useState<string | null>(null);
	const attempt = async (work: () => Promise<void>): Promise<void> => {
		setFault(null);
		try {
			await work();
		} catch (error) {
			if (!(error instanceof SyncTrouble)) throw error;
			setFault(askedInVain(error.problem));
		}
	};
	useEffect(() => {
		void attempt(refreshPhones);
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
				<div class="buttons">
					<button
						type="button"
						class="button button-main button-wide"
						onClick={() => void attempt(async () => setInvitation(await invite()))}
					>
						Invite another phone
					</button>
				</div>
			)}
			<OwnName attempt={attempt} />
			<Phones attempt={attempt} />
			<BringIn />
		</Screen>
	);
}

interface Attempt {
	attempt: (work: () => Promise<void>) => Promise<void>;
}

function OwnName({ attempt }: Attempt) {
	const { device, deviceName, paired } = session.value;
	if (!paired) return null;
	return (
		<TextField
			label="Name of this phone"
			value={deviceName}
			longest={60}
			hint="The history shows it, so that you know who took what out."
			onKeep={(name) => {
				if (name === "") return "A phone needs a name; the old one stays until you give another.";
				void attempt(async () => {
					await rename(device, name);
					await refreshSession();
					await refreshPhones();
				});
				return null;
			}}
		/>
	);
}

function Phones({ attempt }: Attempt) {
	const all = phones.value;
	const out = all.filter(({ revoked }) => revoked);
	return (
		<section class="part">
			<h2>Paired phones</h2>
			<ul class="rows">
				{all
					.filter(({ revoked }) => !revoked)
					.map((phone) => (
						<PhoneRow
							key={phone.device}
							phone={phone}
							onShutOut={() => attempt(() => close(phone))}
						/>
					))}
			</ul>
			{all.length === 0 && (
				<p class="part-note">The list is on the server and shows when it is reached.</p>
			)}
			{out.length > 0 && (
				<>
					<h3 class="part">Shut out</h3>
					<ul class="rows">
						{out.map((phone) => (
							<PhoneRow key={phone.device} phone={phone} />
						))}
					</ul>
				</>
			)}
		</section>
	);
}

async function close({ device }: PairedPhone): Promise<void> {
	await shutOut(device);
	await refreshPhones();
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
