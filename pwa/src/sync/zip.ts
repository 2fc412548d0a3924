/**
 * Writes an archive that any computer opens: zip, its parts stored and not packed.
 *
 * Photographs are packed already. Parts are taken in one by one, so that the archive may be larger
 * than the memory. Source of the form: APPNOTE.TXT 6.3.10 of PKWARE, sections 4.3 and 4.4.
 */

const LOCAL = 0x04034b50;
const CENTRAL = 0x02014b50;
const END = 0x06054b50;
const VERSION = 20;
/** Names are UTF-8. */
const FLAGS = 0x0800;
const STORED = 0;
/** Beyond these the form would need its 64-bit fields. */
const MAX_BYTES = 0xffff_ffff;
const MAX_PARTS = 0xffff;

const CRC_TABLE = Uint32Array.from({ length: 256 }, (_, at) => {
	let crc = at;
	for (let bit = 0; bit < 8; bit++) crc = crc & 1 ? 0xedb88320 ^ (crc >>> 1) : crc >>> 1;
	return crc;
});

/** Bytes ready to be put into an archive; the browser may have put them on the disk. */
export interface ZipPart {
	readonly blob: Blob;
	readonly crc: number;
}

export function zipPart(bytes: Uint8Array<ArrayBuffer>): ZipPart {
	return { blob: new Blob([bytes]), crc: crc32(bytes) };
}

export class ZipWriter {
	readonly #parts: BlobPart[] = [];
	readonly #central: BlobPart[] = [];
	readonly #date: readonly [time: number, date: number];
	#bytes = 0;
	#centralBytes = 0;
	#count = 0;

	/** All parts carry the time `at`. */
	constructor(at: Date) {
		this.#date = dosTime(at);
	}

	/** Add a part. Throws RangeError if the archive would pass 4 GB or 65,535 parts. */
	add(name: string, { blob, crc }: ZipPart): void {
		const nameBytes = new TextEncoder().encode(name);
		const offset = this.#bytes;
		const { size } = blob;
		if (offset + size > MAX_BYTES || this.#count >= MAX_PARTS) {
			throw new RangeError("The file would grow over 4 GB.");
		}
		const [time, date] = this.#date;
		const shared = [FLAGS, STORED, time, date, u32(crc), u32(size), u32(size)];
		const local = packed([u32(LOCAL), VERSION, ...shared, nameBytes.byteLength, 0]);
		this.#parts.push(local, nameBytes, blob);
		const names = [nameBytes.byteLength, 0, 0, 0, 0, u32(0), u32(offset)];
		this.#central.push(packed([u32(CENTRAL), VERSION, VERSION, ...shared, ...names]), nameBytes);
		this.#bytes += local.byteLength + nameBytes.byteLength + size;
		this.#centralBytes += 46 + nameBytes.byteLength;
		this.#count += 1;
	}

	/** The archive. */
	finish(): Blob {
		const count = this.#count;
		const end = packed([
			u32(END),
			0,
			0,
			count,
			count,
			u32(this.#centralBytes),
			u32(this.#bytes),
			0,
		]);
		return new Blob([...this.#parts, ...this.#central, end], { type: "application/zip" });
	}
}

/** CRC-32 of the same section of the form, as an unsigned number. */
export function crc32(bytes: Uint8Array): number {
	let crc = 0xffff_ffff;
	for (let at = 0; at < bytes.length; at++) {
		crc = (CRC_TABLE[(crc ^ (bytes[at] as number)) & 0xff] as number) ^ (crc >>> 8);
	}
	return (crc ^ 0xffff_ffff) >>> 0;
}

/** A number that takes four bytes; plain numbers take two. */
interface Long {
	readonly long: number;
}

function u32(long: number): Long {
	return { long };
}

function packed(numbers: readonly (number | Long)[]): Uint8Array<ArrayBuffer> {
	const view = new DataView(new ArrayBuffer(4 * numbers.length));
	let at = 0;
	for (const number of numbers) {
		if (typeof number === "number") view.setUint16(at, number, true);
		else view.setUint32(at, number.long, true);
		at += typeof number === "number" ? 2 : 4;
	}
	return new Uint8Array(view.buffer, 0, at);
}

function dosTime(at: Date): [time: number, date: number] {
	const time = (at.getHours() << 11) | (at.getMinutes() << 5) | (at.getSeconds() >> 1);
	const date = ((at.getFullYear() - 1980) << 9) | ((at.getMonth() + 1) << 5) | at.getDate();
	return [time, date];
}
