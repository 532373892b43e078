//! A sounder that a silent call for help turns on.

use crate::checks::switching::hung::switched;
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{DeviceKind, Drive};
use crate::terms::{DrivenBy, SwitchContact, ZoneType};
use crate::words::Screen;

check!("sounder-at-silent-call", Basis::Contradiction, "a sounder that a silent call for help turns on");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for switched in switched(site).filter(|switched| switched.switching.contact == SwitchContact::Make) {
        let silent = |drive: &&Drive| drive.by.value == DrivenBy::Alarm && drive.kind == Some(ZoneType::PanicSilent);
        let Some(drive) = switched.switching.drives.iter().find(silent) else { continue };
        for (id, device) in site.devices_on(switched.id).filter(|(_, device)| device.kind == DeviceKind::Sounder) {
            let title = format!("{} sounds at a silent call for help", Screen.device(site, id));
            let finding = Diagnostic::new(&RULE, device.span(), title)
                .here("this sounder")
                .also(drive.by.span, "turns it on at a call of type=\"panic-silent\"")
                .why("Who calls in silence has somebody beside them who must not know. The type is there so that nothing sounds.")
                .help("Leave this drive out; or, where it is to be heard, make the zone one of type=\"panic-audible\".");
            sink.push(about::device(site, device, finding));
        }
    }
}
