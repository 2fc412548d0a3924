/** Which screen an address opens. Without a pairing or a boat, most of them lead to getting one. */
import type { ComponentChild } from "preact";
import { boat } from "../storage/boat.ts";
import { session } from "../sync/session.ts";
import { Screen } from "../ui/Screen.tsx";
import { PutBack } from "./back/PutBack.tsx";
import { Bin } from "./bin/Bin.tsx";
import { BoatScreen } from "./boat/BoatScreen.tsx";
import { ChooseBoat } from "./boat/ChooseBoat.tsx";
import { CompartmentScreen } from "./boat/CompartmentScreen.tsx";
import { Compartments } from "./boat/Compartments.tsx";
import { NewBoat } from "./boat/NewBoat.tsx";
import { PlaceScreen } from "./boat/PlaceScreen.tsx";
import { Places } from "./boat/Places.tsx";
import { Boxes } from "./boxes/Boxes.tsx";
import { BoxScreen } from "./boxes/BoxScreen.tsx";
import { NewBox } from "./boxes/NewBox.tsx";
import { Clashes } from "./clashes/Clashes.tsx";
import { Devices } from "./devices/Devices.tsx";
import { Find } from "./find/Find.tsx";
import { HandoverScreen } from "./handover/HandoverScreen.tsx";
import { Handovers } from "./handover/Handovers.tsx";
import { NewHandover } from "./handover/NewHandover.tsx";
import { EditItem } from "./item/EditItem.tsx";
import { ItemScreen } from "./item/ItemScreen.tsx";
import { PutAway } from "./item/PutAway.tsx";
import { JobScreen, NewJob } from "./jobs/JobScreen.tsx";
import { Jobs } from "./jobs/Jobs.tsx";
import { Kept } from "./kept/Kept.tsx";
import { LiftScreen } from "./lift/LiftScreen.tsx";
import { Lifts } from "./lift/Lifts.tsx";
import { Left } from "./lists/Left.tsx";
import { Masses } from "./lists/Masses.tsx";
import { OverTheMonths } from "./lists/OverTheMonths.tsx";
import { Renewals } from "./lists/Renewals.tsx";
import { Scrap } from "./lists/Scrap.tsx";
import { Waste } from "./lists/Waste.tsx";
import { Leftovers } from "./order/Leftovers.tsx";
import { LineScreen } from "./order/LineScreen.tsx";
import { NewPartScreen } from "./order/NewPartScreen.tsx";
import { Order } from "./order/Order.tsx";
import { Orders } from "./orders/Orders.tsx";
import { Pair } from "./pair/Pair.tsx";
import { PATHS } from "./paths.ts";
import { PinScreen } from "./pins/PinScreen.tsx";
import { ScheduleScreen } from "./schedule/ScheduleScreen.tsx";
import { SpecScreen } from "./spec/SpecScreen.tsx";
import { Storage } from "./storage/Storage.tsx";
import { TagLink } from "./tagLink/TagLink.tsx";
import { Tags } from "./tags/Tags.tsx";
import { TakeOut } from "./takeOut/TakeOut.tsx";
import { TankScreen } from "./tank/TankScreen.tsx";
import { Tanks } from "./tank/Tanks.tsx";
import { Trim } from "./trim/Trim.tsx";
import { WalkRound } from "./walkRound/WalkRound.tsx";
import { Weigh } from "./weigh/Weigh.tsx";
import { Circuits } from "./wire/Circuits.tsx";
import { WireScreen } from "./wire/WireScreen.tsx";
import { SittingScreen } from "./work/SittingScreen.tsx";
import { Work } from "./work/Work.tsx";

type Make = (...parts: string[]) => ComponentChild;

/** First match wins. The tag's address comes in capitals from the QR, which has no small letters. */
const SCREENS: readonly (readonly [RegExp, Make])[] = [
	[/^\/$/, () => <TakeOut />],
	[/^\/find$/, () => <Find />],
	[/^\/item\/([^/]+)$/, (key = "") => <ItemScreen key={key} itemKey={key} />],
	[/^\/item\/([^/]+)\/edit$/, (key = "") => <EditItem key={key} itemKey={key} />],
	[/^\/item\/([^/]+)\/tank$/, (key = "") => <TankScreen key={key} itemKey={key} />],
	[/^\/item\/([^/]+)\/wire$/, (key = "") => <WireScreen key={key} itemKey={key} />],
	[/^\/item\/([^/]+)\/put-away$/, (key = "") => <PutAway key={key} itemKey={key} />],
	[/^\/left$/, () => <Left />],
	[/^\/waste$/, () => <Waste />],
	[/^\/waste\/months$/, () => <OverTheMonths />],
	[/^\/renewals$/, () => <Renewals />],
	[/^\/renewals\/order$/, () => <Order />],
	[/^\/renewals\/leftovers$/, () => <Leftovers />],
	[/^\/renewals\/line\/([^/]+)$/, (id = "") => <LineScreen key={id} id={id} />],
	[/^\/renewals\/spec\/([^/]+)$/, (id = "") => <SpecScreen key={id} id={id} />],
	[/^\/renewals\/new\/([^/]+)$/, (key = "") => <NewPartScreen key={key} oldKey={key} />],
	[/^\/piping$/, () => <ScheduleScreen sort="piping" />],
	[/^\/wiring$/, () => <ScheduleScreen sort="wiring" />],
	[/^\/circuits$/, () => <Circuits />],
	[/^\/masses$/, () => <Masses />],
	[/^\/scrap$/, () => <Scrap />],
	[/^\/weigh$/, () => <Weigh />],
	[/^\/tanks$/, () => <Tanks />],
	[/^\/back$/, () => <PutBack />],
	[/^\/jobs$/, () => <Jobs />],
	[/^\/jobs\/new$/, () => <NewJob />],
	[/^\/jobs\/([^/]+)$/, (key = "") => <JobScreen key={key} jobKey={key} />],
	[/^\/orders$/, () => <Orders />],
	[/^\/walk-round$/, () => <WalkRound />],
	[/^\/photo\/([^/]+)$/, (key = "") => <PinScreen key={key} photoKey={key} />],
	[/^\/work$/, () => <Work />],
	[/^\/work\/sitting$/, () => <SittingScreen />],
	[/^\/lifts$/, () => <Lifts />],
	[/^\/lifts\/([^/]+)$/, (key = "") => <LiftScreen key={key} liftKey={key} />],
	[/^\/trim$/, () => <Trim />],
	[/^\/containers$/, () => <Boxes />],
	[/^\/containers\/new$/, () => <NewBox />],
	[/^\/containers\/([^/]+)$/, (key = "") => <BoxScreen key={key} boxKey={key} />],
	[/^\/handovers$/, () => <Handovers />],
	[/^\/handovers\/new$/, () => <NewHandover />],
	[/^\/handovers\/([^/]+)$/, (key = "") => <HandoverScreen key={key} handoverKey={key} />],
	[/^\/boat$/, () => <BoatScreen />],
	[/^\/compartments$/, () => <Compartments />],
	[/^\/compartments\/([^/]+)$/, (key = "") => <CompartmentScreen key={key} compartmentKey={key} />],
	[/^\/places$/, () => <Places />],
	[/^\/places\/([^/]+)$/, (key = "") => <PlaceScreen key={key} placeKey={key} />],
	[/^\/tags$/, () => <Tags />],
	[/^\/clashes$/, () => <Clashes />],
	[/^\/bin$/, () => <Bin />],
];

/** Open to a phone that has no boat yet. */
const ALWAYS: readonly (readonly [RegExp, Make])[] = [
	[/^\/pair$/, () => <Pair />],
	[/^\/new-boat$/, () => <NewBoat />],
	[/^\/kept$/, () => <Kept />],
	[/^\/storage$/, () => <Storage />],
	[/^\/devices$/, () => <Devices />],
	[/^\/t\/([^/]+)\/?$/i, (code = "") => <TagLink key={code} text={code} />],
];

/** `bare` screens stand alone, without the bar of destinations that lead nowhere yet. */
export function screenFor(path: string): { screen: ComponentChild; bare: boolean } {
	const hasBoat = boat.key.value !== null;
	const { paired, boats, server } = session.value;
	const always = find(ALWAYS, path);
	if (always) return { screen: always, bare: !hasBoat };
	if (hasBoat) return { screen: find(SCREENS, path) ?? <Nowhere />, bare: false };
	if (!paired && server === null) return { screen: <Pair />, bare: true };
	return { screen: boats.length > 0 ? <ChooseBoat /> : <NewBoat />, bare: true };
}

function find(screens: readonly (readonly [RegExp, Make])[], path: string): ComponentChild | null {
	for (const [pattern, make] of screens) {
		const found = pattern.exec(path);
		if (found) return make(...found.slice(1).map(decodeURIComponent));
	}
	return null;
}

function Nowhere() {
	return (
		<Screen title="There is nothing at this address">
			<p>
				Nothing was lost. <a href={PATHS.find}>Find what you were looking for</a>
			</p>
		</Screen>
	);
}
