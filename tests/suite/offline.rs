//! No way out: nothing in the program or in what it is built from talks to a network, and nothing logs.

use std::fs;
use std::path::Path;

/// Crates that open connections, resolve names or speak a network protocol.
const NETWORK: [&str; 26] = [
    "actix-web",
    "async-std",
    "attohttpc",
    "axum",
    "curl",
    "curl-sys",
    "h2",
    "hickory-resolver",
    "hyper",
    "isahc",
    "mio",
    "native-tls",
    "openssl",
    "openssl-sys",
    "quinn",
    "reqwest",
    "rustls",
    "smol",
    "socket2",
    "ssh2",
    "surf",
    "tokio",
    "trust-dns-resolver",
    "tungstenite",
    "ureq",
    "websocket",
];
/// What the standard library has for it, and ways to leave traces.
const PATHS: [&str; 9] = [
    "std::net",
    "TcpStream",
    "UdpSocket",
    "UnixStream",
    "os::unix::net",
    "env_logger",
    "tracing_subscriber",
    "log::set_logger",
    "std::process::Command",
];

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// The names of all packages of a lock file.
fn packages(lock: &str) -> Vec<&str> {
    lock.lines().filter_map(|it| Some(it.strip_prefix("name = ")?.trim_matches('"'))).collect()
}

fn network(lock: &str) -> Vec<&str> {
    packages(lock).into_iter().filter(|it| NETWORK.contains(it)).collect()
}

#[test]
fn no_package_speaks_to_a_network() {
    for (file, known) in [("Cargo.lock", "typst"), ("tests/outside/Cargo.lock", "jsonschema")] {
        let lock = fs::read_to_string(root().join(file)).unwrap();
        assert!(packages(&lock).contains(&known), "{file} is read");
        assert_eq!(network(&lock), [""; 0], "{file}");
    }
    assert_eq!(network("[[package]]\nname = \"tokio\"\n"), ["tokio"]);
}

#[test]
fn the_sources_open_no_connection_and_keep_no_log() {
    let mut folders = vec![root().join("src")];
    let mut files = 0;
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                folders.push(path);
                continue;
            }
            let text = fs::read_to_string(&path).unwrap();
            let found: Vec<&&str> = PATHS.iter().filter(|it| text.contains(**it)).collect();
            assert!(found.is_empty(), "{}: {found:?}", path.display());
            files += 1;
        }
    }
    assert!(files > 100, "{files}");
}
