//! What a host should say with each file: the policy of the page as a header too, types, freshness; and files that tell the
//! usual static hosts so.

use anyhow::{Context as _, Result};

/// Beside the policy. `frame-ancestors` works only as a header.
const BESIDE: [(&str, &str); 4] = [
    ("X-Content-Type-Options", "nosniff"),
    ("Referrer-Policy", "no-referrer"),
    ("Cross-Origin-Opener-Policy", "same-origin"),
    (
        "Permissions-Policy",
        "camera=(self), screen-wake-lock=(self), geolocation=(), microphone=(), payment=(), usb=()",
    ),
];

/// The headers of every answer: the policy that stands in the page, and what only a header can say.
///
/// # Errors
/// Where the page holds no policy.
pub fn headers(page: &[u8]) -> Result<Vec<(&'static str, String)>> {
    let text = std::str::from_utf8(page)?;
    let (_, rest) =
        text.split_once("Content-Security-Policy\" content=\"").context("the page has no policy")?;
    let policy = rest.split('"').next().unwrap_or_default();
    let mut headers = vec![("Content-Security-Policy", format!("{policy}; frame-ancestors 'none'"))];
    headers.extend(BESIDE.map(|(name, value)| (name, value.to_owned())));
    Ok(headers)
}

/// The endings of all files that are built.
const ENDINGS: [&str; 9] = ["html", "js", "css", "gz", "wasm", "svg", "png", "txt", "webmanifest"];

/// The type of a file by its ending.
pub fn mime(ending: Option<&str>) -> &'static str {
    match ending {
        Some("html") => "text/html; charset=utf-8",
        Some("js") => "text/javascript; charset=utf-8",
        Some("css") => "text/css; charset=utf-8",
        // Not as an encoding: the start script unpacks it.
        Some("gz") => "application/gzip",
        Some("wasm") => "application/wasm",
        Some("svg") => "image/svg+xml",
        Some("png") => "image/png",
        Some("txt") => "text/plain; charset=utf-8",
        Some("webmanifest") => "application/manifest+json",
        _ => "application/octet-stream",
    }
}

/// Files that the usual static hosts read: `_headers` (several hosts of static pages), `.htaccess` (Apache), and a snippet for
/// nginx.
///
/// # Errors
/// As `headers`.
pub fn files(page: &[u8]) -> Result<Vec<(&'static str, Vec<u8>)>> {
    let headers = headers(page)?;
    let lines = |line: &dyn Fn(&str, &str) -> String| -> String {
        headers.iter().map(|(name, value)| line(name, value)).collect()
    };
    let plain = format!(
        "/*\n{}/\n  Cache-Control: no-cache\n/index.html\n  Cache-Control: no-cache\n/worker.js\n  Cache-Control: no-cache\n",
        lines(&|name, value| format!("  {name}: {value}\n"))
    );
    let apache = format!(
        "AddType application/manifest+json .webmanifest\nAddType application/gzip .gz\nRemoveEncoding .gz\n<IfModule mod_headers.c>\n{}\
         <FilesMatch \"^(index\\.html|worker\\.js|manifest\\.webmanifest)$\">\n  Header set Cache-Control no-cache\n</FilesMatch>\n</IfModule>\n",
        lines(&|name, value| format!("  Header set {name} \"{value}\"\n"))
    );
    // A block of types stands in place of all that were known before, so it names every one.
    let types = ENDINGS.iter().fold(String::new(), |all, ending| {
        let mime = mime(Some(ending));
        all + "  " + mime.split(';').next().unwrap_or(mime) + " " + ending + ";\n"
    });
    let nginx = format!(
        "# Inside the server block that serves this folder.\ntypes {{\n{types}}}\n{}\
         location ~ /(index\\.html|worker\\.js|manifest\\.webmanifest)?$ {{ expires -1; }}\n",
        lines(&|name, value| format!("add_header {name} \"{value}\" always;\n"))
    );
    Ok(vec![
        ("_headers", plain.into_bytes()),
        (".htaccess", apache.into_bytes()),
        ("host-nginx.conf.txt", nginx.into_bytes()),
    ])
}

#[cfg(test)]
mod tests {
    use super::{files, headers};

    #[test]
    fn the_pages_policy_is_a_header_too() {
        let page = include_bytes!("../../../../index.html");
        let headers = headers(page).expect("a policy");
        assert!(
            headers[0].1.contains("default-src 'self'") && headers[0].1.ends_with("frame-ancestors 'none'")
        );
        for (name, content) in files(page).expect("files") {
            let text = String::from_utf8(content).expect("text");
            assert!(text.contains("nosniff") && text.contains("frame-ancestors"), "{name}");
        }
    }

    #[test]
    fn the_snippet_for_nginx_names_the_type_of_every_file() {
        let page = include_bytes!("../../../../index.html");
        let files = files(page).expect("files");
        let (_, snippet) = files.iter().find(|(name, _)| name.contains("nginx")).expect("a snippet");
        let text = String::from_utf8_lossy(snippet);
        // Its block of types replaces the host's own, and `nosniff` refuses a script of an unknown type.
        for ending in super::ENDINGS {
            assert!(text.contains(&format!(" {ending};")), "{ending}");
        }
        assert!(text.contains("text/javascript js;") && text.contains("text/html html;"));
    }
}
