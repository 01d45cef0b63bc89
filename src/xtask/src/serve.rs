//! `cargo xtask serve`: the built page on this machine, as a plain static host would serve it.

use std::fs;
use std::net::{IpAddr, Ipv4Addr, UdpSocket};
use std::path::{Component, Path, PathBuf};

use anyhow::{Context as _, Result, anyhow, bail};
use tiny_http::{Header, Request, Response, Server};

use crate::build::{self, Care, host};
use crate::setup;

/// `serve [--lan] [--port N] [--quick]`
pub fn command(flags: &[&str]) -> Result<()> {
    let (mut lan, mut port, mut care) = (false, 8080_u16, Care::Full);
    let mut flags = flags.iter();
    while let Some(flag) = flags.next() {
        match *flag {
            "--lan" => lan = true,
            "--quick" => care = Care::Quick,
            "--port" => port = flags.next().and_then(|n| n.parse().ok()).context("--port wants a number")?,
            _ => bail!("serve knows --lan, --port N and --quick, not {flag}"),
        }
    }
    setup::for_build()?;
    build::run(care)?;
    let address = IpAddr::V4(if lan { Ipv4Addr::UNSPECIFIED } else { Ipv4Addr::LOCALHOST });
    let server = Server::http((address, port))
        .map_err(|error| anyhow!("port {port}: {error}; choose another one with --port"))?;
    let port = server.server_addr().to_ip().map_or(port, |address| address.port());
    println!("Liftmargin is at http://127.0.0.1:{port}/ (Ctrl-C ends)");
    if lan {
        println!("{}", on_a_phone(port));
    }
    let headers = host::headers(&fs::read(build::dist().join("index.html"))?)?;
    for request in server.incoming_requests() {
        // A browser that hangs up is no reason to stop.
        let _ = answer(request, &build::dist(), &headers);
    }
    Ok(())
}

fn on_a_phone(port: u16) -> String {
    let Some(address) = own_address() else {
        return format!(
            "On a phone in the same network: http://ADDRESS:{port}/ with this machine's address."
        );
    };
    format!(
        "On a phone in the same network: http://{address}:{port}/\n\
         Opened like this the page works while this machine serves it. Browsers keep a page for use without a network\n\
         only if it comes over https or from the phone itself: for that, put dist/ on a static host with https."
    )
}

/// The address by which the local network sees us. Connecting a datagram socket sends nothing.
fn own_address() -> Option<IpAddr> {
    let socket = UdpSocket::bind((Ipv4Addr::UNSPECIFIED, 0)).ok()?;
    // An address kept for documentation (RFC 5737): any that is not our own network leads to the way out.
    socket.connect((Ipv4Addr::new(192, 0, 2, 1), 9)).ok()?;
    socket
        .local_addr()
        .ok()
        .map(|address| address.ip())
        .filter(|ip| !ip.is_loopback() && !ip.is_unspecified())
}

fn answer(request: Request, folder: &Path, headers: &[(&str, String)]) -> Result<()> {
    let content = file_of(folder, request.url()).and_then(|path| Some((fs::read(&path).ok()?, path)));
    let Some((content, path)) = content else {
        return Ok(request.respond(Response::from_string("not found").with_status_code(404))?);
    };
    let ending = path.extension().and_then(|ending| ending.to_str());
    let mut response = Response::from_data(content)
        .with_header(header("Content-Type", host::mime(ending))?)
        .with_header(header("Cache-Control", freshness(&path))?);
    for (name, value) in headers {
        response.add_header(header(name, value)?);
    }
    Ok(request.respond(response)?)
}

/// The file that a request names; none where it would leave the folder.
fn file_of(folder: &Path, url: &str) -> Option<PathBuf> {
    let path = url.split(['?', '#']).next()?.strip_prefix('/')?;
    let inside = Path::new(path).components().all(|part| matches!(part, Component::Normal(_)));
    let path = if path.is_empty() { "index.html" } else { path };
    inside.then(|| folder.join(path))
}

/// A file named by its content never changes; the others must be asked for each time.
fn freshness(path: &Path) -> &'static str {
    match path.file_name().and_then(|name| name.to_str()) {
        Some("index.html" | "worker.js" | "manifest.webmanifest" | "third-party.txt") => "no-cache",
        _ => "public, max-age=31536000, immutable",
    }
}

fn header(name: &str, value: &str) -> Result<Header> {
    Header::from_bytes(name, value).map_err(|()| anyhow!("header {name}: {value}"))
}

#[cfg(test)]
mod tests {
    use super::file_of;
    use std::path::Path;

    #[test]
    fn requests_stay_inside_the_folder() {
        let file = |url| file_of(Path::new("dist"), url);
        assert_eq!(file("/"), Some("dist/index.html".into()));
        assert_eq!(file("/?from=link"), Some("dist/index.html".into()));
        assert_eq!(file("/icons/mark.svg"), Some("dist/icons/mark.svg".into()));
        for outside in ["/../Cargo.toml", "//etc/passwd", "/icons/../../Cargo.toml", "http://elsewhere/"] {
            assert_eq!(file(outside), None, "{outside}");
        }
    }
}
