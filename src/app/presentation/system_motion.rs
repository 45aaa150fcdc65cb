//! Whether the system asks for less motion.
//!
//! On Linux the desktop's settings portal says so (`org.freedesktop.appearance`, `reduced-motion`, 1 for less), and desktops that do
//! not give that say whether they animate (`org.gnome.desktop.interface`, `enable-animations`); names and values from memory.
//! Other systems tell it only through calls that this program, which forbids unsafe code, does not make: there the switch of the
//! presentation decides alone.

/// Whether the system asks for less motion; `None` if it does not say.
#[cfg(target_os = "linux")]
pub(super) fn asks_for_less() -> Option<bool> {
    pollster::block_on(async {
        let connection = zbus::Connection::session().await.ok()?;
        let less = setting(&connection, "org.freedesktop.appearance", "reduced-motion").await;
        match less.and_then(|value| u32::try_from(value).ok()) {
            Some(less) => Some(less == 1),
            None => {
                let animates = setting(&connection, "org.gnome.desktop.interface", "enable-animations").await?;
                bool::try_from(animates).ok().map(|animates| !animates)
            }
        }
    })
}

/// One of the desktop's settings.
#[cfg(target_os = "linux")]
async fn setting(connection: &zbus::Connection, space: &str, key: &str) -> Option<zbus::zvariant::OwnedValue> {
    let portal = Some("org.freedesktop.portal.Desktop");
    let settings = Some("org.freedesktop.portal.Settings");
    let path = "/org/freedesktop/portal/desktop";
    let reply = connection.call_method(portal, path, settings, "ReadOne", &(space, key)).await.ok()?;
    reply.body().deserialize::<zbus::zvariant::OwnedValue>().ok()
}

/// Whether the system asks for less motion: not told here.
#[cfg(not(target_os = "linux"))]
pub(super) fn asks_for_less() -> Option<bool> {
    None
}
